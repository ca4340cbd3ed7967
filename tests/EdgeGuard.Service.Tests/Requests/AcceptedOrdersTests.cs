using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Requests;
using EdgeGuard.Service.Tests.Guarding;

namespace EdgeGuard.Service.Tests.Requests;

/// <summary>Who bypassed, forced or hid what and why, on its way from the decision to the ring.</summary>
public sealed class AcceptedOrdersTests : IDisposable
{
    private readonly RequestDesk _desk = new(2, new SilentPorts(scansMax: 0));

    [Theory]
    [InlineData(RequestKind.Bypass)]
    [InlineData(RequestKind.Force)]
    [InlineData(RequestKind.Shelve)]
    [InlineData(RequestKind.RemoveFromService)]
    public void An_accepted_one_is_handed_on_once_and_to_its_own_table(RequestKind kind)
    {
        RequestOrder order = Order(1, kind);
        Decide(order, EventId.RequestAccepted);
        Assert.Same(order, Table(kind).TryTake());
        Assert.All(Tables(), static table => Assert.Null(table.TryTake()));
    }

    [Theory]
    [InlineData(RequestKind.Bypass, EventId.RequestRefused)]
    [InlineData(RequestKind.Force, EventId.RequestRefused)]
    [InlineData(RequestKind.Shelve, EventId.RequestRefused)]
    [InlineData(RequestKind.RemoveFromService, EventId.RequestRefused)]
    [InlineData(RequestKind.Unbypass, EventId.RequestAccepted)]
    [InlineData(RequestKind.Unforce, EventId.RequestAccepted)]
    [InlineData(RequestKind.Unshelve, EventId.RequestAccepted)]
    [InlineData(RequestKind.ReturnToService, EventId.RequestAccepted)]
    [InlineData(RequestKind.Reset, EventId.RequestAccepted)]
    public void One_that_was_refused_or_ends_something_is_not(RequestKind kind, EventId decision)
    {
        Decide(Order(0, kind), decision);
        Assert.All(Tables(), static table => Assert.Null(table.TryTake()));
    }

    [Fact]
    public void It_can_be_looked_up_by_what_it_is_about_until_the_next_one()
    {
        RequestOrder first = Order(1, RequestKind.Shelve);
        RequestOrder second = first with { Person = "Ole" };
        Decide(first, EventId.RequestAccepted);
        Decide(second, EventId.RequestAccepted);
        _desk.Hidden.TryTake();
        Assert.Same(second, _desk.Hidden.Latest(1, (int)FunctionId.Flow));
        Assert.Null(_desk.Hidden.Latest(0, (int)FunctionId.Flow));
        Assert.Null(_desk.Hidden.Latest(1, (int)FunctionId.Sens));
    }

    [Fact]
    public void Two_of_one_scan_come_in_turn_and_looking_allocates_nothing()
    {
        var orders = new AcceptedOrders(2, SignalRoles.Count);
        RequestOrder last = Order(1, RequestKind.Force) with { Signal = SignalRole.Insulation };
        RequestOrder first = Order(0, RequestKind.Force) with { Signal = (SignalRole)(SignalRoles.Count - 1) };
        orders.Set(last);
        orders.Set(first);
        Assert.Same(first, orders.TryTake());
        Assert.Same(last, orders.TryTake());
        Assert.Null(orders.TryTake());
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 1_000; i++)
        {
            orders.TryTake();
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    public void Dispose() => _desk.Dispose();

    private static RequestOrder Order(int unit, RequestKind kind) =>
        new(kind, unit, "A-1", "Ines (uid 1000)", "meter out") { Function = FunctionId.Flow, Signal = SignalRole.GasFlow, Value = 80, Minutes = 15 };

    private AcceptedOrders Table(RequestKind kind) => kind switch
    {
        RequestKind.Bypass => _desk.Bypasses,
        RequestKind.Force => _desk.Forces,
        _ => _desk.Hidden,
    };

    private AcceptedOrders[] Tables() => [_desk.Bypasses, _desk.Forces, _desk.Hidden];

    private void Decide(RequestOrder order, EventId decision)
    {
        long id = _desk.Submit(order);
        var requests = new OperatorRequest[2];
        _desk.Take(requests);
        _desk.Decided(new GuardEvent { Unit = order.Unit, Id = decision, Detail = id });
        Assert.True(_desk.WaitDecision(order.Unit, id, 1_000, out _));
    }
}
