using EdgeGuard.Core.Signals;
using EdgeGuard.Publication.Site;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

namespace EdgeGuard.Publication.Tests.Site;

/// <summary>What is told before a scan has come.</summary>
public sealed partial class RingFeedTests
{
    [Fact]
    public void Before_the_first_scan_values_wait_and_say_so()
    {
        Assert.Equal(StatusCode.BadWaitingForInitialData, Value("N-1/OutletTemperature").Status);
        Poll();
        Assert.Equal(StatusCode.BadWaitingForInitialData, Value("N-1/State").Status);
        Assert.Equal((GuardLink.Absent, (long)GuardLink.Absent), (_feed.Link, Value("/guard/Link").Value.AsInteger));
        Poll(11_000);
        Assert.Equal((GuardLink.Absent, StatusCode.BadNoCommunication), (_feed.Link, Value("N-1/State").Status));
        _ring.Start();
        Poll(300);
        Assert.Equal(GuardLink.Lost, _feed.Link);
        _ring.Scan(NowUnixMs);
        Poll();
        Assert.Equal((GuardLink.Live, StatusCode.Good), (_feed.Link, Value("N-1/State").Status));
    }

    [Theory]
    [InlineData(900, GuardLink.Live, StatusCode.Good)]
    [InlineData(1_100, GuardLink.Late, StatusCode.UncertainNoCommunicationLastUsableValue)]
    [InlineData(3_600_000, GuardLink.Lost, StatusCode.BadNoCommunication)]
    [InlineData(-3_600_000, GuardLink.Live, StatusCode.Good)]
    public void Point_15_the_last_scan_of_a_guard_that_is_gone_is_as_old_as_its_stamp(long ageMs, GuardLink link, StatusCode status)
    {
        _ring.Start();
        _ring.SetSignal(0, SignalRole.OutletTemperature, 333.5);
        _ring.Scan(NowUnixMs - ageMs);
        Poll();
        Assert.Equal((link, status), (_feed.Link, Value("N-1/OutletTemperature").Status));

        // A scan that comes is of now, whatever the clock of day says of it.
        _ring.Scan(NowUnixMs - ageMs + 100);
        Poll();
        Assert.Equal((GuardLink.Live, StatusCode.Good), (_feed.Link, Value("N-1/OutletTemperature").Status));
    }
}
