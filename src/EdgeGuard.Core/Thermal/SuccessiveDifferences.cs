namespace EdgeGuard.Core.Thermal;

/// <summary>
/// Scatter of a signal from the differences of readings that follow each other: what changes slowly (a ramp, a drift) hardly
/// counts in them, so the noise of a sensor can be told beside a process that moves. Allocates nothing.
/// </summary>
/// <remarks>
/// Half the mean square successive difference estimates the variance of independent readings (J. von Neumann, R. H. Kent,
/// H. R. Bellinson, B. I. Hart: The Mean Square Successive Difference, Annals of Mathematical Statistics 12, 1941). The
/// differences are taken about their own mean, so that an even ramp counts nothing at all.
/// </remarks>
public sealed class SuccessiveDifferences
{
    private double _first;
    private double _last;
    private double _squares;
    private int _changed;

    /// <summary>Readings taken.</summary>
    public int Count { get; private set; }

    /// <summary>Standard deviation of a reading, in the unit of the readings; 0 with fewer than three of them.</summary>
    public double Scatter
    {
        get
        {
            int differences = Count - 1;
            if (differences < 2)
            {
                return 0;
            }

            double moved = _last - _first;
            return Math.Sqrt(Math.Max(0, (_squares - (moved * moved / differences)) / (differences - 1) / 2));
        }
    }

    /// <summary>Share of the readings that differ from the one before, 0 to 1; 0 with fewer than two.</summary>
    public double ChangedShare => Count < 2 ? 0 : (double)_changed / (Count - 1);

    /// <summary>Chance that readings of which this share changes stay the same for so long: a run of <paramref name="length"/> without a change.</summary>
    /// <param name="changedShare">Share of the readings that change, 0 to 1.</param>
    /// <param name="length">Readings in the run, 1 or more.</param>
    public static double ChanceOfRun(double changedShare, int length)
    {
        double chance = 1;
        double factor = 1 - changedShare;
        for (int left = length - 1; left > 0; left >>= 1)
        {
            chance *= (left & 1) != 0 ? factor : 1;
            factor *= factor;
        }

        return chance;
    }

    /// <summary>Takes a reading; one that is not finite is left out.</summary>
    /// <param name="value">The reading.</param>
    public void Add(double value)
    {
        if (!double.IsFinite(value))
        {
            return;
        }

        if (Count == 0)
        {
            _first = value;
        }
        else
        {
            double difference = value - _last;
            _squares += difference * difference;
            _changed += difference != 0 ? 1 : 0;
        }

        _last = value;
        Count++;
    }

    /// <summary>Begins anew.</summary>
    public void Clear()
    {
        Count = 0;
        _squares = 0;
        _changed = 0;
    }
}
