using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.Publication.Tests.Rigs;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

namespace EdgeGuard.Publication.Tests.Site;

/// <summary>Calls that are refused by their arguments, before the guard is asked.</summary>
public sealed class MethodRefusalTests : IDisposable
{
    private readonly MethodSpace _space = new(RingRig.Site with
    {
        Units =
        [
            RingRig.Site.Units[0] with
            {
                Bypass = new BypassTable { Functions = [FunctionId.Flow] },
                Shelf = new ShelfTable { OutOfService = true },
            },
        ],
    });

    [Theory]
    [InlineData("Start", "start N-1", 0, " ")]
    [InlineData("ClassifyTrip", "classify N-1", 0, "", "why", true)]
    [InlineData("ClassifyTrip", "classify N-1", 1, "Ines", " ", true)]
    [InlineData("FLOW/Bypass", "bypass N-1 FLOW", 0, "", "why", 30u)]
    [InlineData("FLOW/Bypass", "bypass N-1 FLOW", 1, "Ines", " ", 30u)]
    [InlineData("FLOW/Bypass", "bypass N-1 FLOW", 2, "Ines", "why", 0u)]
    [InlineData("FLOW/Bypass", "bypass N-1 FLOW", 2, "Ines", "why", 65_536u)]
    [InlineData("FLOW/Unbypass", "unbypass N-1 FLOW", 0, " ", "why")]
    [InlineData("FLOW/Unbypass", "unbypass N-1 FLOW", 1, "Ines", "")]
    [InlineData("forces/GasFlow/Force", "force N-1 GasFlow", 0, "", "why", 1.0, 30u)]
    [InlineData("forces/GasFlow/Force", "force N-1 GasFlow", 1, "Ines", " ", 1.0, 30u)]
    [InlineData("forces/GasFlow/Force", "force N-1 GasFlow", 2, "Ines", "why", double.NaN, 30u)]
    [InlineData("forces/GasFlow/Force", "force N-1 GasFlow", 3, "Ines", "why", 1.0, 0u)]
    [InlineData("forces/GasFlow/Force", "force N-1 GasFlow", 3, "Ines", "why", 1.0, 65_536u)]
    [InlineData("forces/GasFlow/Unforce", "unforce N-1 GasFlow", 0, " ", "why")]
    [InlineData("forces/GasFlow/Unforce", "unforce N-1 GasFlow", 1, "Ines", "")]
    [InlineData("COOL/TimedShelve", "shelve N-1 COOL", 0, "", "why", 30u)]
    [InlineData("COOL/TimedShelve", "shelve N-1 COOL", 1, "Ines", " ", 30u)]
    [InlineData("COOL/TimedShelve", "shelve N-1 COOL", 2, "Ines", "why", 0u)]
    [InlineData("COOL/TimedShelve", "shelve N-1 COOL", 2, "Ines", "why", 65_536u)]
    [InlineData("COOL/Unshelve", "unshelve N-1 COOL", 0, " ", "why")]
    [InlineData("COOL/RemoveFromService", "outofservice N-1 COOL", 1, "Ines", "")]
    [InlineData("COOL/PlaceInService", "inservice N-1 COOL", 0, "", "why")]
    public void A_call_without_person_reason_number_or_a_possible_time_is_refused_by_the_argument_and_written_down(string method, string told, int wrong, params object[] arguments)
    {
        CallMethodResult result = _space.Call("N-1/" + method, arguments);
        Assert.Equal(StatusCode.BadInvalidArgument, result.StatusCode);
        Assert.Equal(Enumerable.Range(0, arguments.Length).Select(i => i == wrong ? StatusCode.BadOutOfRange : StatusCode.Good), result.InputArgumentResults!);
        Assert.Empty(_space.Desk.Asked);
        Assert.True(SpinWait.SpinUntil(() => !_space.Desk.Noted.IsEmpty, 60_000));
        Assert.StartsWith($"anna over OPC UA, session panel 2: {told} refused by the publisher", _space.Desk.Noted.First(), StringComparison.Ordinal);
    }

    public void Dispose() => _space.Dispose();
}
