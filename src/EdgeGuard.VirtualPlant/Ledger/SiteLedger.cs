namespace EdgeGuard.VirtualPlant.Ledger;

/// <summary>The judge of the shared supply: power of all units together against the site's limit.</summary>
public sealed class SiteLedger(double limitKw)
{
    /// <summary>Highest sum, kW.</summary>
    public double MaxKw { get; private set; }

    /// <summary>When, ms of plant time.</summary>
    public long MaxAtMs { get; private set; }

    /// <summary>Time above the limit, ms.</summary>
    public long AboveLimitMs { get; private set; }

    /// <summary>Takes the sum of one step.</summary>
    public void Observe(long timeMs, int stepMs, double sumKw)
    {
        if (sumKw > MaxKw)
        {
            (MaxKw, MaxAtMs) = (sumKw, timeMs);
        }

        AboveLimitMs += sumKw > limitKw ? stepMs : 0;
    }

    /// <summary>A copy of the figures.</summary>
    public SiteLedgerReport Report() => new()
    {
        SiteLimitKw = limitKw,
        SumMaxKw = Math.Round(MaxKw, 3),
        SumMaxAtMs = MaxAtMs,
        AboveLimitMs = AboveLimitMs,
    };
}
