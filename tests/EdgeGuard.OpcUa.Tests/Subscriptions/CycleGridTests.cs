using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Sessions;
using EdgeGuard.OpcUa.Subscriptions;
using CsCheck;

namespace EdgeGuard.OpcUa.Tests.Subscriptions;

/// <summary>Cycles start on a common grid of 10 ms, so that many subscriptions wake the server at the same instants; no interval is shortened.</summary>
public sealed class CycleGridTests
{
    private static UaSubscription Subscription(double intervalMs) => new(new ServerLimits())
    {
        Id = 1,
        Owner = UserIdentity.Anonymous,
        OwnerUri = "urn:client",
        Caller = new CallerContext(),
        IntervalMs = intervalMs,
    };

    [Fact]
    public void The_first_cycle_lies_on_the_grid_at_the_interval_or_less_than_ten_milliseconds_later() =>
        Gen.Select(Gen.Double[50, 3_600_000], Gen.Long[0, 1_000_000_000]).Sample((intervalMs, nowMs) =>
        {
            using UaSubscription subscription = Subscription(intervalMs);
            subscription.Schedule(nowMs);
            Assert.Equal(0, subscription.NextMs % 10);
            Assert.InRange(subscription.NextMs - nowMs, intervalMs, intervalMs + 10);
        });

    [Fact]
    public void Cycles_follow_at_the_interval_and_return_to_the_grid_after_a_pause()
    {
        using UaSubscription subscription = Subscription(100);
        subscription.Schedule(1_003);
        Assert.False(subscription.TakeCycle(1_109));
        Assert.True(subscription.TakeCycle(1_110));
        Assert.Equal(1_210, subscription.NextMs);
        Assert.True(subscription.TakeCycle(5_001));
        Assert.Equal(5_110, subscription.NextMs);
    }
}
