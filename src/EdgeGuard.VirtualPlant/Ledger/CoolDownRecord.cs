namespace EdgeGuard.VirtualPlant.Ledger;

/// <summary>
/// Cool-down rate of the outlet gas as the mean over the last 60 s, sampled every 100 ms. A window that contains a
/// moment after power was taken away while it was flowing counts as forced by a trip; all others as led, also those
/// after a permit was withdrawn when no power was asked for any more. A led window in which the gas stood still is not
/// judged: the thermocouple then shows how the duct cools, and there is no outlet gas.
/// </summary>
/// <param name="capKPerMin">Cap on the rate, K/min.</param>
/// <param name="stillKgPerHour">Below this flow the gas counts as standing still, kg/h.</param>
public sealed class CoolDownRecord(double capKPerMin, double stillKgPerHour)
{
    /// <summary>Window of the mean, ms.</summary>
    public const int WindowMs = 60_000;

    private const int SampleMs = 100;

    private const int Samples = WindowMs / SampleMs;

    /// <summary>Power within this time before the permit went makes the removal a forced one, ms.</summary>
    private const int RemovalLookBackMs = 5_000;

    private readonly double[] _temperatures = new double[Samples];

    private long _count;

    private long _nextSampleMs;

    private long _lastPoweredMs = long.MinValue / 2;

    private long _lastForcedMs = long.MinValue / 2;

    private long _lastStillMs = long.MinValue / 2;

    private bool _permitted;

    private bool _forced;

    /// <summary>Highest led cool-down rate, K/min; zero when it never cooled.</summary>
    public double LedMaxKPerMin { get; private set; }

    /// <summary>End of the window of the highest led rate, ms of plant time.</summary>
    public long LedMaxAtMs { get; private set; }

    /// <summary>Time with the led rate above the cap, ms.</summary>
    public long LedAboveCapMs { get; private set; }

    /// <summary>Highest rate forced by a trip, K/min.</summary>
    public double ForcedMaxKPerMin { get; private set; }

    /// <summary>End of the window of the highest forced rate, ms of plant time.</summary>
    public long ForcedMaxAtMs { get; private set; }

    /// <summary>Time with the forced rate above the cap, ms.</summary>
    public long ForcedAboveCapMs { get; private set; }

    /// <summary>Takes one step.</summary>
    public void Observe(in LedgerSample sample, bool powered)
    {
        Classify(in sample, powered);
        if (sample.FlowKgPerHour < stillKgPerHour)
        {
            _lastStillMs = sample.TimeMs;
        }

        if (sample.TimeMs < _nextSampleMs)
        {
            return;
        }

        _nextSampleMs = sample.TimeMs - (sample.TimeMs % SampleMs) + SampleMs;
        int slot = (int)(_count % Samples);
        if (_count >= Samples)
        {
            Judge(_temperatures[slot] - sample.OutletC, sample.TimeMs);
        }

        _temperatures[slot] = sample.OutletC;
        _count++;
    }

    private void Classify(in LedgerSample sample, bool powered)
    {
        if (powered)
        {
            _lastPoweredMs = sample.TimeMs;
        }

        bool permitted = sample.Permit == PermitState.Permitted;
        if (permitted)
        {
            _forced = false;
        }
        else if (_permitted)
        {
            _forced = sample.TimeMs - _lastPoweredMs <= RemovalLookBackMs;
        }

        _permitted = permitted;
        if (_forced)
        {
            _lastForcedMs = sample.TimeMs;
        }
    }

    private void Judge(double rateKPerMin, long timeMs)
    {
        bool above = rateKPerMin > capKPerMin;
        if (timeMs - _lastForcedMs < WindowMs)
        {
            ForcedAboveCapMs += above ? SampleMs : 0;
            if (rateKPerMin > ForcedMaxKPerMin)
            {
                (ForcedMaxKPerMin, ForcedMaxAtMs) = (rateKPerMin, timeMs);
            }

            return;
        }

        if (timeMs - _lastStillMs < WindowMs)
        {
            return;
        }

        LedAboveCapMs += above ? SampleMs : 0;
        if (rateKPerMin > LedMaxKPerMin)
        {
            (LedMaxKPerMin, LedMaxAtMs) = (rateKPerMin, timeMs);
        }
    }
}
