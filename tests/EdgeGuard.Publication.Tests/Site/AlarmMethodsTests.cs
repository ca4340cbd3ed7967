using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Publication.Tests.Rigs;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

namespace EdgeGuard.Publication.Tests.Site;

/// <summary>What the methods of alarms ask of the guard, whom they let ask, and where they are.</summary>
public sealed class AlarmMethodsTests : IDisposable
{
    private readonly MethodSpace _space = new(RingRig.Site with
    {
        Units =
        [
            RingRig.Site.Units[0] with { Shelf = new ShelfTable { OutOfService = true, Marked = [AlarmIds.Trip, FunctionId.Leak, FunctionId.Resd] } },
            RingRig.Site.Units[1] with { Shelf = new ShelfTable { MaxMinutes = 0 } },
        ],
    });

    [Trait("requirement", "ALRM-5")]
    [Fact]
    public void Each_method_asks_the_guard_with_person_reason_and_alarm()
    {
        Assert.Equal(StatusCode.Good, _space.Call("N-1/COOL/TimedShelve", "Ines", "damper", 30u).StatusCode);
        Assert.Equal(new GuardRequest("shelve", "N-1", "Ines, anna over OPC UA, session panel 2", "damper") { Alarm = "COOL", Minutes = 30 }, Assert.Single(_space.Desk.Asked));
        Assert.Equal(StatusCode.Good, _space.Call("N-1/COOL/Unshelve", "Ines", "done").StatusCode);
        Assert.Equal(StatusCode.Good, _space.Call("N-1/TRIP/RemoveFromService", "Ines", "rebuilt").StatusCode);
        Assert.Equal(StatusCode.Good, _space.Call("N-1/TRIP/PlaceInService", "Ines", "built").StatusCode);
        Assert.Equal(
            [("shelve", "COOL", 30), ("unshelve", "COOL", null), ("outofservice", "TRIP", null), ("inservice", "TRIP", (int?)null)],
            _space.Desk.Asked.Select(static r => (r.Kind, r.Alarm, r.Minutes)));
    }

    [Trait("requirement", "ALRM-2")]
    [Fact]
    public void To_shelve_needs_an_operator_to_take_out_of_service_a_supervisor_and_a_site_that_allows_it()
    {
        const CallerRoles Operators = CallerRoles.Operator | CallerRoles.Supervisor;
        Assert.Equal((Operators, Operators), (_space.Method("N-1/HEAT/TimedShelve").CallRoles, _space.Method("N-1/HEAT/Unshelve").CallRoles));
        Assert.Equal((CallerRoles.Supervisor, Operators), (_space.Method("N-1/HEAT/RemoveFromService").CallRoles, _space.Method("N-1/HEAT/PlaceInService").CallRoles));

        // Where an alarm cannot be hidden there is no method for it: trips that are not marked, what never may be, a site that allows nothing.
        string[] there = [.. Codes().Where(code => _space.Nodes.Find(new NodeId(2, $"N-1/{code}/TimedShelve")) is not null)];
        Assert.Equal(["TRIP", "COOL", "HEAT", "AFTC", "DMND", "LEAK"], there);
        Assert.All(Codes(), code => Assert.Null(_space.Nodes.Find(new NodeId(2, $"A-1/{code}/TimedShelve")) ?? _space.Nodes.Find(new NodeId(2, $"A-1/{code}/RemoveFromService"))));

        // What may be hidden, by people or by the design, tells by whom and why.
        string[] told = [.. Codes().Where(code => _space.Nodes.Find(new NodeId(2, $"N-1/{code}/HiddenReason")) is not null)];
        Assert.Equal(["TRIP", "HARD", "FLOW", "SENS", "CMDV", "COOL", "HEAT", "AFTC", "DMND", "PHAS", "LEAK"], told);
    }

    public void Dispose() => _space.Dispose();

    private static IEnumerable<string> Codes() => Enumerable.Range(0, FunctionIds.Count).Select(static i => i == 0 ? "TRIP" : ((FunctionId)i).ToString().ToUpperInvariant());
}
