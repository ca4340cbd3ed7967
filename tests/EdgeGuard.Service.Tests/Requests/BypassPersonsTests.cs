using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Tests.Requests;

/// <summary>Who bypassed what, on its way from the decision to the ring.</summary>
public sealed class BypassPersonsTests : IDisposable
{
    private readonly RequestDesk _desk = new(2, new SilentJournal());

    [Fact]
    public void The_person_of_an_accepted_bypass_is_handed_on_once()
    {
        Decide(new RequestOrder(RequestKind.Bypass, 1, "A-1", "Ines (uid 1000)", "meter") { Function = FunctionId.Flow, Minutes = 30 }, EventId.RequestAccepted);
        Assert.True(_desk.Bypasses.TryTake(out int unit, out FunctionId function, out string person));
        Assert.Equal((1, FunctionId.Flow, "Ines (uid 1000)"), (unit, function, person));
        Assert.False(_desk.Bypasses.TryTake(out _, out _, out _));
    }

    [Fact]
    public void One_that_was_refused_or_was_no_bypass_is_not()
    {
        Decide(new RequestOrder(RequestKind.Bypass, 0, "N-1", "Ines", "meter") { Function = FunctionId.Flow, Minutes = 30 }, EventId.RequestRefused);
        Decide(new RequestOrder(RequestKind.Unbypass, 0, "N-1", "Ole", "meter") { Function = FunctionId.Flow }, EventId.RequestAccepted);
        Decide(new RequestOrder(RequestKind.Reset, 0, "N-1", "Ole", "clean"), EventId.RequestAccepted);
        Assert.False(_desk.Bypasses.TryTake(out _, out _, out _));
    }

    [Fact]
    public void Two_of_one_scan_come_in_turn_and_looking_allocates_nothing()
    {
        var persons = new BypassPersons(2);
        persons.Set(0, FunctionId.Elem, "Ole");
        persons.Set(1, FunctionId.Sens, "Ines");
        var taken = new List<(int, FunctionId, string)>();
        while (persons.TryTake(out int unit, out FunctionId function, out string person))
        {
            taken.Add((unit, function, person));
        }

        Assert.Equal([(0, FunctionId.Elem, "Ole"), (1, FunctionId.Sens, "Ines")], taken);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 1_000; i++)
        {
            persons.TryTake(out _, out _, out _);
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
