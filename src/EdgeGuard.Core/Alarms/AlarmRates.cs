namespace EdgeGuard.Core.Alarms;

/// <summary>
/// How much the people on watch are asked to take, after EEMUA 191 and ISA-18.2 (one per 10 min from a public page, the
/// rest from memory): on average at most 1 annunciation in 10 min is acceptable, 2 the most that can be managed, more than
/// 10 in 10 min a flood, which should fill less than 1 % of the time; a flood is over below 5 in 10 min. Counts scans,
/// allocates nothing after start.
/// </summary>
public sealed class AlarmRates
{
    /// <summary>More annunciations than this in 10 min begin a flood.</summary>
    public const int FloodAbove = 10;

    /// <summary>Fewer annunciations than this in 10 min end it.</summary>
    public const int FloodOverBelow = 5;

    private const int BucketMs = 10_000;
    private const int Buckets = 60; // ten minutes, to the bucket
    private const double WindowMs = Buckets * (double)BucketMs;
    private readonly int[] _buckets = new int[Buckets];
    private readonly long[] _byPriority = new long[3];
    private readonly int _scanMs;
    private readonly int _bucketScans;
    private long _firstScan = -1;
    private long _bucketEnd;
    private int _at;
    private long _floodScans;

    /// <summary>Counters at zero.</summary>
    /// <param name="scanMs">Scan period, ms, 1 to 10000.</param>
    public AlarmRates(int scanMs)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(scanMs, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(scanMs, BucketMs);
        _scanMs = scanMs;
        _bucketScans = BucketMs / scanMs;
    }

    /// <summary>Annunciations in the last 10 min.</summary>
    public int InTenMinutes { get; private set; }

    /// <summary>Most annunciations seen in 10 min.</summary>
    public int MostInTenMinutes { get; private set; }

    /// <summary>True during a flood.</summary>
    public bool InFlood { get; private set; }

    /// <summary>Floods begun.</summary>
    public int Floods { get; private set; }

    /// <summary>Annunciations since the start.</summary>
    public long Total => _byPriority[0] + _byPriority[1] + _byPriority[2];

    /// <summary>Scans since the start.</summary>
    public long Scans { get; private set; }

    /// <summary>Share of the time in flood, per cent.</summary>
    public double FloodPercent => Scans > 0 ? 100.0 * _floodScans / Scans : 0;

    /// <summary>Average annunciations in 10 min since the start; before the first 10 min as if they were over.</summary>
    public double AverageInTenMinutes => Total * WindowMs / Math.Max(WindowMs, (double)Scans * _scanMs);

    /// <summary>Annunciations of a priority since the start.</summary>
    /// <param name="priority">The priority.</param>
    public long Count(AlarmPriority priority) => _byPriority[(int)priority];

    /// <summary>Share of a priority in all annunciations, per cent; 0 before the first.</summary>
    /// <param name="priority">The priority.</param>
    public double PriorityPercent(AlarmPriority priority) => Total > 0 ? 100.0 * _byPriority[(int)priority] / Total : 0;

    /// <summary>Takes one scan; to be called before <see cref="Annunciated"/> of that scan.</summary>
    /// <param name="scan">Nominal scan; skipped ones count as time.</param>
    public void Step(long scan)
    {
        if (_firstScan < 0)
        {
            _firstScan = scan;
            _bucketEnd = scan + _bucketScans;
        }

        long before = Scans;
        Scans = scan - _firstScan + 1;
        _floodScans += InFlood ? Scans - before : 0;
        for (int i = 0; scan >= _bucketEnd && i < Buckets; i++)
        {
            NextBucket();
        }

        if (scan >= _bucketEnd)
        {
            _bucketEnd = scan + _bucketScans; // A gap of more than the window: all buckets are empty.
        }

        if (InFlood && InTenMinutes < FloodOverBelow)
        {
            InFlood = false;
        }
    }

    /// <summary>Takes one annunciation.</summary>
    /// <param name="priority">Its priority.</param>
    public void Annunciated(AlarmPriority priority)
    {
        _byPriority[(int)priority]++;
        _buckets[_at]++;
        InTenMinutes++;
        MostInTenMinutes = Math.Max(MostInTenMinutes, InTenMinutes);
        if (!InFlood && InTenMinutes > FloodAbove)
        {
            InFlood = true;
            Floods++;
        }
    }

    private void NextBucket()
    {
        _at = _at + 1 == Buckets ? 0 : _at + 1;
        InTenMinutes -= _buckets[_at];
        _buckets[_at] = 0;
        _bucketEnd += _bucketScans;
    }
}
