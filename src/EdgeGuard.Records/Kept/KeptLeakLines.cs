using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Records.Kept;

/// <summary>The lines of a kept file about the trends of LEAK.</summary>
internal static class KeptLeakLines
{
    private static readonly string[] Leakage = Keys("leakage");
    private static readonly string[] Insulation = Keys("insulation");

    public static void Visit(IKeptFields fields, KeptRecord r)
    {
        r.LeakBasis = fields.Text("leak-basis", r.LeakBasis);
        r.Leakage = Visit(fields, Leakage, r.Leakage);
        r.Insulation = Visit(fields, Insulation, r.Insulation);
    }

    private static LeakFigures Visit(IKeptFields fields, string[] keys, LeakFigures leak)
    {
        leak.DaySum = fields.Number(keys[0], leak.DaySum, -1e15, 1e15);
        leak.DayCount = (int)fields.Whole(keys[1], leak.DayCount, 100_000_000);
        leak.DayMs = (int)fields.Whole(keys[2], leak.DayMs, 200_000_000);
        leak.Day = (int)fields.Whole(keys[3], leak.Day, 100_000);
        leak.Trend = KeptLegLines.VisitTrend(fields, keys.AsSpan(4), leak.Trend);
        return leak;
    }

    private static string[] Keys(string name) =>
        [name + "-day-sum", name + "-day-count", name + "-day-ms", name + "-day", .. KeptLegLines.TrendNames.Select(end => name + "-" + end)];
}
