using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>The range of a written point keeps a wrong value out of the cabinet, never a removal of power.</summary>
public sealed class FieldBusRangeTests : IDisposable
{
    private const int Demand = 3;

    private readonly FakeLink _link = new();
    private readonly LinkEngine _engine;
    private readonly FieldBus _bus;

    public FieldBusRangeTests()
    {
        var clock = new ManualClock();
        _engine = new LinkEngine(FieldTables.Link(), _link, clock);
        _bus = new FieldBus([new LinkWorker(_engine, clock, new QuietObserver(), conducted: true)], blockCount: 2, unitCount: 1);
        _engine.ConnectAndProve();
    }

    public void Dispose() => _bus.Dispose();

    [Theory]
    [InlineData(100.1)]
    [InlineData(-0.1)]
    public void A_value_outside_the_range_is_written_when_it_removes_power_and_only_then(double percent)
    {
        _bus.Offer(0, CommandRole.BlowerDemand, FieldTables.Energise(percent));
        Assert.Equal(CommandFeedback.Failed, _engine.Commands[Demand].Feedback);
        _bus.Offer(0, CommandRole.BlowerDemand, FieldTables.DeEnergise(percent));
        Assert.Equal(CommandFeedback.Outstanding, _engine.Commands[Demand].Feedback);
        _engine.ServeDeEnergising();
        Assert.Equal(unchecked((ushort)(short)Math.Round(percent * 10)), _link.Registers[7]);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(100)]
    public void The_ends_of_the_range_are_inside(double percent)
    {
        _bus.Offer(0, CommandRole.BlowerDemand, FieldTables.Energise(percent));
        Assert.True(_engine.ServeOneEnergising());
        Assert.Equal((ushort)(percent * 10), _link.Registers[7]);
    }
}
