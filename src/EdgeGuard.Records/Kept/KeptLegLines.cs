using System.Globalization;
using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Records.Kept;

/// <summary>The lines of a kept file about the legs.</summary>
internal static class KeptLegLines
{
    private const double OhmMost = 1e6;
    private const double DaysMost = 100_000;
    private const double SumMost = 1e18;
    /// <summary>Ends of the keys of a trend.</summary>
    public static readonly IReadOnlyList<string> TrendNames =
        ["points", "cycles", "first-day", "last-day", "latest-percent", "sum-x", "sum-y", "sum-xx", "sum-xy", "sum-yy"];

    private static readonly string[] Names = ["baseline-ohm", "day-sum-ohm", .. TrendNames];

    private static readonly string[][] Keys = [.. Enumerable.Range(1, LegWatch.Legs).Select(static leg => Names.Select(name => string.Create(CultureInfo.InvariantCulture, $"leg-{leg}-{name}")).ToArray())];

    public static void Visit(IKeptFields fields, KeptRecord r)
    {
        r.LegsBasis = fields.Text("legs-basis", r.LegsBasis);

        // One up, so that a day before the first is no negative number.
        r.LegDay = fields.Whole("legs-day", r.LegDay + 1, (long)DaysMost) - 1;
        r.LegDayBlocks = (int)fields.Whole("legs-day-blocks", r.LegDayBlocks, 1_000_000);
        r.LegCycles = (int)fields.Whole("legs-cycles", r.LegCycles, KeptFigures.CountMax);
        for (int leg = 0; leg < LegWatch.Legs; leg++)
        {
            r.Legs[leg] = Visit(fields, Keys[leg], r.Legs[leg]);
        }
    }

    private static LegFigures Visit(IKeptFields fields, string[] keys, LegFigures leg)
    {
        leg.BaselineOhm = fields.Number(keys[0], leg.BaselineOhm, 0, OhmMost);
        leg.DaySumOhm = fields.Number(keys[1], leg.DaySumOhm, 0, OhmMost * 1e6);
        leg.Trend = VisitTrend(fields, keys.AsSpan(2), leg.Trend);
        return leg;
    }

    /// <summary>The lines of a trend.</summary>
    public static TrendState VisitTrend(IKeptFields fields, ReadOnlySpan<string> keys, TrendState trend)
    {
        trend.Points = (int)fields.Whole(keys[0], trend.Points, (long)DaysMost);
        trend.Cycles = (int)fields.Whole(keys[1], trend.Cycles, KeptFigures.CountMax);
        trend.FirstDay = fields.Number(keys[2], trend.FirstDay, 0, DaysMost);
        trend.LastDay = fields.Number(keys[3], trend.LastDay, 0, DaysMost);
        trend.LatestPercent = fields.Number(keys[4], trend.LatestPercent, -SumMost, SumMost, mayBeNone: true);
        trend.SumX = fields.Number(keys[5], trend.SumX, 0, SumMost);
        trend.SumY = fields.Number(keys[6], trend.SumY, -SumMost, SumMost);
        trend.SumXX = fields.Number(keys[7], trend.SumXX, 0, SumMost);
        trend.SumXY = fields.Number(keys[8], trend.SumXY, -SumMost, SumMost);
        trend.SumYY = fields.Number(keys[9], trend.SumYY, 0, SumMost);
        return trend;
    }
}
