using EdgeGuard.Core.Signals;
using EdgeGuard.Service.FieldIo;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>Deadlines on the machine's own clock; limits are one-sided, so that a busy machine cannot fail them.</summary>
public sealed class RealTimePacerTests
{
    private const int ScanMs = 5;
    private const long PeriodUs = ScanMs * 1000L;

    private readonly MonotonicClock _clock = new();
    private readonly SteppedTime _utc = new();

    [Fact]
    public void No_scan_begins_before_its_deadline_and_deadlines_do_not_drift()
    {
        long first = _clock.NowUs + 20_000;
        var pacer = new RealTimePacer(_clock, TimeProvider.System, ScanMs, first);
        ScanTick tick = default;
        long skipped = 0;
        for (int i = 0; i < 50; i++)
        {
            Assert.True(pacer.WaitNext(ref tick));
            skipped += tick.Skipped;
            Assert.Equal(first + ((i + skipped) * PeriodUs), tick.NominalUs);
            Assert.True(_clock.NowUs >= tick.NominalUs);
            Assert.True(tick.LatenessUs >= 0);
        }
    }

    // Of an hour each, so that half a period is room for any machine: what was missed is made up without a wait.
    [Fact]
    public void Missed_scans_are_made_up_at_once_up_to_the_limit_and_given_up_beyond_it()
    {
        const int HourMs = 3_600_000;
        const long HourUs = HourMs * 1000L;
        long first = _clock.NowUs - (RealTimePacer.CatchUpScansMax * HourUs) - (HourUs / 2);
        var pacer = new RealTimePacer(_clock, TimeProvider.System, HourMs, first);
        ScanTick tick = default;
        for (int i = 0; i <= RealTimePacer.CatchUpScansMax; i++)
        {
            Assert.True(pacer.WaitNext(ref tick));
            Assert.Equal(0, tick.Skipped);
            Assert.Equal(first + (i * HourUs), tick.NominalUs);
            Assert.InRange(tick.LatenessUs, ((RealTimePacer.CatchUpScansMax - i) * HourUs) + (HourUs / 2), (RealTimePacer.CatchUpScansMax + 1 - i) * HourUs);
        }

        long early = first - HourUs;
        var late = new RealTimePacer(_clock, TimeProvider.System, HourMs, early);
        Assert.True(late.WaitNext(ref tick));
        Assert.Equal(RealTimePacer.CatchUpScansMax + 1, tick.Skipped);
        Assert.Equal(early + ((RealTimePacer.CatchUpScansMax + 1) * HourUs), tick.NominalUs);
    }

    [Fact]
    public void After_a_standstill_deadlines_are_given_up_and_counted()
    {
        long first = _clock.NowUs - (1000 * PeriodUs);
        var pacer = new RealTimePacer(_clock, TimeProvider.System, ScanMs, first);
        ScanTick tick = default;
        pacer.WaitNext(ref tick);
        Assert.True(tick.Skipped >= 1000);
        Assert.True(tick.LatenessUs < PeriodUs);
        var statistics = new ScanStatistics();
        statistics.Count(tick, PeriodUs, 0);
        Assert.True(statistics.LatenessMaxUs >= 1000 * PeriodUs, "the greatest lateness counts from the first deadline missed");
        Assert.Equal(1, statistics.Overruns);
    }

    [Fact]
    public void The_gap_between_two_scans_is_measured_whether_deadlines_are_made_up_or_given_up()
    {
        var pacer = new RealTimePacer(_clock, TimeProvider.System, ScanMs, _clock.NowUs);
        ScanTick tick = default;
        pacer.WaitNext(ref tick);
        Assert.Equal(0, tick.GapMs);
        Thread.Sleep(6 * ScanMs);
        pacer.WaitNext(ref tick);
        Assert.True(tick.GapMs >= 6 * ScanMs, $"{tick.GapMs} ms");
        Thread.Sleep(100 * ScanMs);
        pacer.WaitNext(ref tick);
        Assert.True(tick.Skipped > 0);
        Assert.True(tick.GapMs >= 100 * ScanMs, $"{tick.GapMs} ms");
    }

    [Fact]
    public void A_step_of_utc_is_seen_in_the_scan_after_it_and_only_there()
    {
        var pacer = new RealTimePacer(_clock, _utc, ScanMs, _clock.NowUs);
        ScanTick tick = default;
        pacer.WaitNext(ref tick);
        Assert.Equal(ClockQuality.Unknown, tick.Clock);
        _utc.StepMs = -60_000;
        pacer.WaitNext(ref tick);
        Assert.Equal(ClockQuality.Stepped, tick.Clock);
    }
}
