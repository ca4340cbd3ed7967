using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Tests.Requests;

/// <summary>Who forced what and why, on its way from the decision to the ring.</summary>
public sealed class ForcePersonsTests : IDisposable
{
    private readonly RequestDesk _desk = new(2, new SilentJournal());

    [Fact]
    public void Person_and_reason_of_an_accepted_force_are_handed_on_once()
    {
        Decide(new RequestOrder(RequestKind.Force, 1, "A-1", "Ines (uid 1000)", "meter out") { Signal = SignalRole.GasFlow, Value = 80, Minutes = 15 }, EventId.RequestAccepted);
        Assert.True(_desk.Forcers.TryTake(out int unit, out SignalRole signal, out string person, out string reason));
        Assert.Equal((1, SignalRole.GasFlow, "Ines (uid 1000)", "meter out"), (unit, signal, person, reason));
        Assert.False(_desk.Forcers.TryTake(out _, out _, out _, out _));
        Assert.False(_desk.Bypasses.TryTake(out _, out _, out _));
    }

    [Fact]
    public void One_that_was_refused_or_ended_a_force_is_not()
    {
        Decide(new RequestOrder(RequestKind.Force, 0, "N-1", "Ines", "meter") { Signal = SignalRole.GasFlow, Value = 80, Minutes = 15 }, EventId.RequestRefused);
        Decide(new RequestOrder(RequestKind.Unforce, 0, "N-1", "Ole", "meter") { Signal = SignalRole.GasFlow }, EventId.RequestAccepted);
        Assert.False(_desk.Forcers.TryTake(out _, out _, out _, out _));
    }

    [Fact]
    public void Two_of_one_scan_come_in_turn_and_looking_allocates_nothing()
    {
        var persons = new ForcePersons(2);
        persons.Set(0, SignalRole.Insulation, "Ole", "a");
        persons.Set(1, SignalRole.GasFlow, "Ines", "b");
        var taken = new List<(int, SignalRole, string, string)>();
        while (persons.TryTake(out int unit, out SignalRole signal, out string person, out string reason))
        {
            taken.Add((unit, signal, person, reason));
        }

        Assert.Equal([(0, SignalRole.Insulation, "Ole", "a"), (1, SignalRole.GasFlow, "Ines", "b")], taken);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 1_000; i++)
        {
            persons.TryTake(out _, out _, out _, out _);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    public void Dispose() => _desk.Dispose();

    private void Decide(RequestOrder order, EventId decision)
    {
        long id = _desk.Submit(order);
        var requests = new OperatorRequest[2];
        _desk.Take(requests);
        _desk.Decided(new GuardEvent { Unit = order.Unit, Id = decision, Detail = id });
        Assert.True(_desk.WaitDecision(order.Unit, id, 1_000, out _));
    }

    private sealed class SilentJournal : IRequestJournal
    {
        public bool Received(RequestOrder order, long id) => true;

        public void Rejected(string person, string why)
        {
        }
    }
}
