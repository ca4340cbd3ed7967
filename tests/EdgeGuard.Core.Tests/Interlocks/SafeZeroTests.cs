namespace EdgeGuard.Core.Tests.Interlocks;

public sealed class SafeZeroTests
{
    [Fact]
    public void The_zero_value_of_each_deciding_enum_is_the_safe_one()
    {
        Assert.Equal(EdgeGuard.Core.Interlocks.UnitState.Tripped, default);
        Assert.Equal(EdgeGuard.Core.Interlocks.UnitMode.Observe, default);
        Assert.Equal(EdgeGuard.Core.Interlocks.FunctionState.NotGood, default);
        Assert.Equal(EdgeGuard.Core.Interlocks.Reaction.Removal, default);
        Assert.Equal(EdgeGuard.Core.Signals.ReadResult.NeverRead, default);
        Assert.False(default(EdgeGuard.Core.Signals.SignalValue).IsGood);
    }
}
