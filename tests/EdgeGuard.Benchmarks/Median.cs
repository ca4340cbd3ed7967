namespace EdgeGuard.Benchmarks;

/// <summary>The middle of several turns: one disturbed turn does not move it.</summary>
internal static class Median
{
    public static double Of(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        int middle = sorted.Length / 2;
        return sorted.Length == 0 ? double.NaN : sorted.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }
}
