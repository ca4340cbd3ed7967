using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Service.Guarding.Watching;

/// <summary>What people are told of the legs: how far each is, how fast the worst one goes, and when it is 10 % up where that may be said.</summary>
internal readonly struct LegSummary
{
    private const double MsPerDay = 86_400_000;
    private const double DaysPerYear = 365.25;

    /// <summary>No date beyond this is one: 2200-01-01.</summary>
    private const double UtcMsMost = 7_258_118_400_000;

    public double FirstPercent { get; private init; }

    public double SecondPercent { get; private init; }

    public double ThirdPercent { get; private init; }

    public int Readings { get; private init; }

    public double PercentPerYear { get; private init; }

    public double WarnUtcMs { get; private init; }

    public double EarliestUtcMs { get; private init; }

    public double LatestUtcMs { get; private init; }

    public static LegSummary Of(LegWatch? legs)
    {
        LegTrend? worst = Worst(legs);
        (double likely, double earliest, double latest) = worst?.DayOf(LegTrend.WarnPercent) ?? (double.NaN, double.NaN, double.NaN);
        return new LegSummary
        {
            FirstPercent = legs?[0]?.LatestPercent ?? double.NaN,
            SecondPercent = legs?[1]?.LatestPercent ?? double.NaN,
            ThirdPercent = legs?[2]?.LatestPercent ?? double.NaN,
            Readings = worst?.Points ?? 0,
            PercentPerYear = (worst?.PercentPerDay ?? double.NaN) * DaysPerYear,
            WarnUtcMs = Utc(likely),
            EarliestUtcMs = Utc(earliest),
            LatestUtcMs = Utc(latest),
        };
    }

    private static LegTrend? Worst(LegWatch? legs)
    {
        LegTrend? worst = legs?[0];
        for (int leg = 1; leg < LegWatch.Legs && worst is not null; leg++)
        {
            worst = legs![leg] is { } trend && trend.PercentPerDay > worst.PercentPerDay ? trend : worst;
        }

        return worst;
    }

    private static double Utc(double day) => day * MsPerDay <= UtcMsMost ? day * MsPerDay : double.NaN;
}
