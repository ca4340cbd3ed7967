namespace EdgeGuard.Benchmarks.Modbus;

/// <summary>How late things were, in steps of 0.1 ms up to 1 s; counting allocates nothing. One thread writes.</summary>
internal sealed class LatenessCount
{
    private const int StepUs = 100;
    private readonly long[] _counts = new long[10_000];

    public long Total => _counts.Sum();

    public void Note(long lateUs) => _counts[Math.Clamp(lateUs / StepUs, 0, _counts.Length - 1)]++;

    public void Add(LatenessCount other)
    {
        for (int i = 0; i < _counts.Length; i++)
        {
            _counts[i] += other._counts[i];
        }
    }

    /// <summary>The lateness that so many of a thousand did not exceed, ms.</summary>
    public double PerMilleMs(double perMille)
    {
        long limit = (long)Math.Ceiling(Total * perMille / 1000);
        long seen = 0;
        for (int i = 0; i < _counts.Length; i++)
        {
            seen += _counts[i];
            if (seen >= limit)
            {
                return (i + 1) * StepUs / 1000.0;
            }
        }

        return double.NaN;
    }
}
