namespace EdgeGuard.Service.Configuration;

/// <summary>When the interlocks of a unit were proof-tested, and when they have to be again.</summary>
public static class ProofTestDates
{
    /// <summary>Longest time between two proof tests: at least annually (common practice, no source).</summary>
    public const int IntervalDays = 366;

    /// <summary>The day by which the next proof test is due: after the interval, or when the waiver ends; null when neither is stated.</summary>
    public static DateOnly? Due(UnitOptions unit)
    {
        ArgumentNullException.ThrowIfNull(unit);
        return unit.ProofTest?.Date.AddDays(IntervalDays) ?? unit.ProofTestWaiver?.Date;
    }
}
