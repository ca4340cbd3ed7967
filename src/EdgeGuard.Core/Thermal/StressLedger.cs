namespace EdgeGuard.Core.Thermal;

/// <summary>
/// What an element has been through: cycles, their depth, rates, hours by temperature band, with what was led and what
/// a trip forced told apart (a wire that falls some 400 K in the first minute after a trip is a severe cycle, and no
/// merit of the interlock). Oxide scale fails by number and depth of cycles, not by hours alone. Counts scans, allocates
/// nothing after start.
/// </summary>
/// <remarks>
/// A cycle is a fall of at least <see cref="StressTable.CycleK"/> from the last peak; it ends, and is counted, with a rise
/// of as much from the lowest point. Peaks and valleys closer than that are one.
/// </remarks>
public sealed class StressLedger
{
    private readonly StressTable _table;
    private readonly long[] _bandScans;
    private double _peakC = double.NaN;
    private double _valleyC = double.NaN;
    private bool _falling;
    private StressCause _cause = StressCause.Led;
    private long _ledExcessScans;
    private long _forcedExcessScans;
    private long _unknownScans;

    /// <summary>An empty ledger.</summary>
    /// <param name="table">Settings; bands must rise.</param>
    public StressLedger(StressTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        for (int i = 1; i < table.BandsC.Count; i++)
        {
            if (!(table.BandsC[i] > table.BandsC[i - 1]))
            {
                throw new ArgumentException("The bands must rise.", nameof(table));
            }
        }

        _table = table;
        _bandScans = new long[table.BandsC.Count];
    }

    /// <summary>Cycles whose fall was led.</summary>
    public int LedCycles { get; private set; }

    /// <summary>Cycles whose fall was forced by a trip, in whole or in part.</summary>
    public int ForcedCycles { get; private set; }

    /// <summary>Deepest fall of a led cycle, K.</summary>
    public double DeepestLedK { get; private set; }

    /// <summary>Deepest fall of a forced cycle, K.</summary>
    public double DeepestForcedK { get; private set; }

    /// <summary>Fastest rise, K/min, 0 or above.</summary>
    public double FastestRiseKPerMin { get; private set; }

    /// <summary>Fastest led fall, K/min, as a positive figure.</summary>
    public double FastestLedFallKPerMin { get; private set; }

    /// <summary>Fastest forced fall, K/min, as a positive figure.</summary>
    public double FastestForcedFallKPerMin { get; private set; }

    /// <summary>Time of led falls faster than the cap, s.</summary>
    public double LedExcessSeconds => _ledExcessScans * _table.ScanSeconds;

    /// <summary>Time of forced falls faster than the cap, s.</summary>
    public double ForcedExcessSeconds => _forcedExcessScans * _table.ScanSeconds;

    /// <summary>Time in which the element was not known, s: hours and cycles of it are missing.</summary>
    public double UnknownSeconds => _unknownScans * _table.ScanSeconds;

    /// <summary>Hours in a temperature band: from its edge up to the next, the last one upwards without end.</summary>
    /// <param name="band">Index of the band.</param>
    public double BandHours(int band) => _bandScans[band] * _table.ScanSeconds / 3600;

    /// <summary>All that was seen but the hours by band, to be kept.</summary>
    public StressFigures Figures
    {
        get => new()
        {
            LedCycles = LedCycles,
            ForcedCycles = ForcedCycles,
            DeepestLedK = DeepestLedK,
            DeepestForcedK = DeepestForcedK,
            FastestRiseKPerMin = FastestRiseKPerMin,
            FastestLedFallKPerMin = FastestLedFallKPerMin,
            FastestForcedFallKPerMin = FastestForcedFallKPerMin,
            LedExcessMs = Milliseconds(_ledExcessScans),
            ForcedExcessMs = Milliseconds(_forcedExcessScans),
            UnknownMs = Milliseconds(_unknownScans),
            PeakC = _peakC,
            ValleyC = _valleyC,
            Falling = _falling,
            Cause = _cause,
        };
        set
        {
            (LedCycles, ForcedCycles) = (value.LedCycles, value.ForcedCycles);
            (DeepestLedK, DeepestForcedK) = (value.DeepestLedK, value.DeepestForcedK);
            FastestRiseKPerMin = value.FastestRiseKPerMin;
            (FastestLedFallKPerMin, FastestForcedFallKPerMin) = (value.FastestLedFallKPerMin, value.FastestForcedFallKPerMin);
            (_ledExcessScans, _forcedExcessScans) = (Scans(value.LedExcessMs), Scans(value.ForcedExcessMs));
            _unknownScans = Scans(value.UnknownMs);
            (_peakC, _valleyC) = (value.PeakC, value.ValleyC);
            (_falling, _cause) = (value.Falling && double.IsFinite(value.PeakC) && double.IsFinite(value.ValleyC), value.Cause);
        }
    }

    /// <summary>Time in a temperature band, ms.</summary>
    /// <param name="band">Index of the band.</param>
    public long BandMs(int band) => Milliseconds(_bandScans[band]);

    /// <summary>Takes over the time in a band that an earlier run counted.</summary>
    /// <param name="band">Index of the band.</param>
    /// <param name="milliseconds">The time, ms, 0 or above.</param>
    public void RestoreBand(int band, long milliseconds) => _bandScans[band] = Scans(milliseconds);

    /// <summary>Takes one scan.</summary>
    /// <param name="elementC">Element, °C; NaN when not good.</param>
    /// <param name="slopeKPerMin">Its slope, K/min; NaN while the window is not full.</param>
    /// <param name="cause">Who makes it cool: a trip, or someone who leads it.</param>
    public void Add(double elementC, double slopeKPerMin, StressCause cause)
    {
        if (!double.IsFinite(elementC))
        {
            _unknownScans++;
            return;
        }

        CountBand(elementC);
        CountRate(slopeKPerMin, cause);
        FollowCycle(elementC, cause);
    }

    private long Milliseconds(long scans) => (long)Math.Round(scans * _table.ScanSeconds * 1000);

    private long Scans(long milliseconds) => (long)Math.Round(milliseconds / (_table.ScanSeconds * 1000));

    private void CountBand(double elementC)
    {
        int band = _table.BandsC.Count - 1;
        while (band >= 0 && elementC < _table.BandsC[band])
        {
            band--;
        }

        if (band >= 0)
        {
            _bandScans[band]++;
        }
    }

    private void CountRate(double slopeKPerMin, StressCause cause)
    {
        if (!double.IsFinite(slopeKPerMin))
        {
            return;
        }

        FastestRiseKPerMin = Math.Max(FastestRiseKPerMin, slopeKPerMin);
        bool excess = -slopeKPerMin > _table.CapKPerMin;
        if (cause == StressCause.Led)
        {
            FastestLedFallKPerMin = Math.Max(FastestLedFallKPerMin, -slopeKPerMin);
            _ledExcessScans += excess ? 1 : 0;
        }
        else
        {
            FastestForcedFallKPerMin = Math.Max(FastestForcedFallKPerMin, -slopeKPerMin);
            _forcedExcessScans += excess ? 1 : 0;
        }
    }

    private void FollowCycle(double elementC, StressCause cause)
    {
        if (!_falling)
        {
            // A new peak begins a new fall: what came before it is no part of it.
            if (!(elementC < _peakC))
            {
                _peakC = elementC;
                _cause = StressCause.Led;
                return;
            }

            Blame(cause);
            if (_peakC - elementC >= _table.CycleK)
            {
                _falling = true;
                _valleyC = elementC;
            }

            return;
        }

        if (elementC < _valleyC)
        {
            _valleyC = elementC;
            Blame(cause);
        }
        else if (elementC - _valleyC >= _table.CycleK)
        {
            CountCycle();
            _falling = false;
            _peakC = elementC;
            _cause = StressCause.Led;
        }
    }

    private void Blame(StressCause cause) => _cause = cause == StressCause.Led ? _cause : StressCause.ForcedByTrip;

    private void CountCycle()
    {
        double depthK = _peakC - _valleyC;
        if (_cause == StressCause.Led)
        {
            LedCycles++;
            DeepestLedK = Math.Max(DeepestLedK, depthK);
        }
        else
        {
            ForcedCycles++;
            DeepestForcedK = Math.Max(DeepestForcedK, depthK);
        }
    }
}
