using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.Publication.Tests.Rigs;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

namespace EdgeGuard.Publication.Tests.Site;

/// <summary>What the methods of units and interlocks ask of the guard, and whom they let ask.</summary>
public sealed class UnitMethodsTests : IDisposable
{
    private readonly MethodSpace _space = new(RingRig.Site with
    {
        Units = [RingRig.Site.Units[0] with { Bypass = new BypassTable { Functions = [FunctionId.Flow] } }, RingRig.Site.Units[1]],
    });

    [Fact]
    public void A_bypass_is_asked_for_with_person_function_reason_and_minutes()
    {
        CallMethodResult result = _space.Call("N-1/FLOW/Bypass", "Ines", "flow meter is changed", 30u);
        Assert.Equal((StatusCode.Good, "accepted by the desk"), (result.StatusCode, result.OutputArguments![0].AsString));
        Assert.Equal(new GuardRequest("bypass", "N-1", "Ines, anna over OPC UA, session panel 2", "flow meter is changed") { Function = "FLOW", Minutes = 30 }, Assert.Single(_space.Desk.Asked));
        Assert.True(_space.Nodes.TryFind(new NodeId(2, "N-1/LastAnswer"), out VariableNode? last));
        last.Sample(out DataValue answer);
        Assert.Equal("bypass: accepted by the desk", answer.Value.AsString);
    }

    [Fact]
    public void The_end_of_a_bypass_and_the_class_of_a_trip_are_asked_for()
    {
        Assert.Equal(StatusCode.Good, _space.Call("N-1/FLOW/Unbypass", "Ines", "meter is back").StatusCode);
        Assert.Equal(StatusCode.Good, _space.Call("N-1/ClassifyTrip", "Ines", "loose plug", true).StatusCode);
        Assert.Equal(StatusCode.Good, _space.Call("N-1/ClassifyTrip", "Ines", "blower dirty", false).StatusCode);
        Assert.Equal(
            [("unbypass", "FLOW", null), ("classify", null, "spurious"), ("classify", null, "genuine")],
            _space.Desk.Asked.Select(static r => (r.Kind, r.Function, r.Class)));
    }

    [Fact]
    public void Bypass_needs_a_supervisor_and_a_site_that_allows_it_and_operators_may_end_it()
    {
        Assert.Equal(CallerRoles.Supervisor, _space.Method("N-1/FLOW/Bypass").CallRoles);
        Assert.NotNull(_space.Method("N-1/FLOW/Bypass").Handler);
        Assert.Equal(CallerRoles.Operator | CallerRoles.Supervisor, _space.Method("N-1/FLOW/Unbypass").CallRoles);

        // Not named in the site file: there, but not executable. Never to be bypassed at all: not there.
        Assert.Null(_space.Method("N-1/ELEM/Bypass").Handler);
        Assert.Null(_space.Method("A-1/FLOW/Bypass").Handler);
        Assert.NotNull(_space.Method("A-1/FLOW/Unbypass").Handler);
        Assert.All(new[] { "START", "HARD", "STOP", "SELF", "COMM", "CMDV", "JRNL" }, code => Assert.Null(_space.Nodes.Find(new NodeId(2, $"N-1/{code}/Bypass"))));
    }

    [Trait("requirement", "FORC-1")]
    [Fact]
    public void A_force_is_asked_for_with_person_reason_value_and_minutes_and_ended_by_operators()
    {
        Assert.Equal(StatusCode.Good, _space.Call("N-1/forces/GasFlow/Force", "Ines", "meter out", 140.5, 15u).StatusCode);
        Assert.Equal(StatusCode.Good, _space.Call("N-1/forces/GasFlow/Unforce", "Ines", "meter is back").StatusCode);
        Assert.Equal(
            [
                new GuardRequest("force", "N-1", "Ines, anna over OPC UA, session panel 2", "meter out") { Signal = "GasFlow", Value = 140.5, Minutes = 15 },
                new GuardRequest("unforce", "N-1", "Ines, anna over OPC UA, session panel 2", "meter is back") { Signal = "GasFlow" },
            ],
            _space.Desk.Asked);
        Assert.Equal(CallerRoles.Supervisor, _space.Method("N-1/forces/GasFlow/Force").CallRoles);
        Assert.Equal(CallerRoles.Operator | CallerRoles.Supervisor, _space.Method("N-1/forces/GasFlow/Unforce").CallRoles);
        Assert.Null(_space.Nodes.Find(new NodeId(2, "N-1/forces/Relay/Force")));
        Assert.Null(_space.Nodes.Find(new NodeId(2, "A-1/forces/GasFlow/Force")));
    }

    public void Dispose() => _space.Dispose();
}
