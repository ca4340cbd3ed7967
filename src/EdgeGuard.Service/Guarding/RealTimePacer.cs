using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Scans at absolute deadlines of the monotonic clock. A late scan does not move the next deadline, and scans that
/// were missed are made up at once, because every delay of the core counts scans: a skipped one would stretch it. Only
/// when the machine stood still for longer than <see cref="CatchUpScansMax"/> periods are deadlines given up; their
/// number is an input of the next scan, so that the core counts them in every delay that ends in a demand.
/// </summary>
public sealed class RealTimePacer : IPacer
{
    /// <summary>Missed scans that are made up at once.</summary>
    public const int CatchUpScansMax = 10;

    // Slewing by a time service moves UTC by at most 0.05 % (from memory: adjtime's limit of 500 ppm), 0.05 ms a scan of 100 ms.
    private const long ClockToleranceMs = 20;

    private readonly MonotonicClock _clock;
    private readonly TimeProvider _utc;
    private readonly long _periodUs;
    private long _nextUs;
    private long _lastUtcMs;
    private long _lastNowUs;
    private bool _first = true;

    /// <summary>Sets the first deadline.</summary>
    public RealTimePacer(MonotonicClock clock, TimeProvider utc, int scanMs, long firstScanUs)
    {
        _clock = clock;
        _utc = utc;
        _periodUs = scanMs * 1000L;
        _nextUs = firstScanUs;
    }

    /// <inheritdoc/>
    public bool WaitNext(ref ScanTick tick)
    {
        DeadlineSleeper.SleepUntil(_clock, _nextUs);
        long nowUs = _clock.NowUs;
        tick.Skipped = SkipAfterStandstill(nowUs);
        tick.NominalUs = _nextUs;
        tick.LatenessUs = nowUs - _nextUs;
        long utcMs = _utc.GetUtcNow().ToUnixTimeMilliseconds();
        tick.UtcUnixMs = utcMs - (tick.LatenessUs / 1000);
        tick.GapMs = _first ? 0 : (int)Math.Clamp((nowUs - _lastNowUs) / 1000, 0, int.MaxValue);
        tick.Clock = JudgeClock(utcMs, nowUs);
        _nextUs += _periodUs;
        return true;
    }

    /// <inheritdoc/>
    public void Done(ScanOutput output)
    {
    }

    private long SkipAfterStandstill(long nowUs)
    {
        long missed = (nowUs - _nextUs) / _periodUs;
        if (missed <= CatchUpScansMax)
        {
            return 0;
        }

        _nextUs += missed * _periodUs;
        return missed;
    }

    private ClockQuality JudgeClock(long utcMs, long nowUs)
    {
        long differenceMs = (utcMs - _lastUtcMs) - ((nowUs - _lastNowUs) / 1000);
        bool first = _first;
        _first = false;
        _lastUtcMs = utcMs;
        _lastNowUs = nowUs;
        if (first)
        {
            return ClockQuality.Unknown;
        }

        return Math.Abs(differenceMs) > ClockToleranceMs ? ClockQuality.Stepped : ClockQuality.Even;
    }
}
