using CsCheck;
using EdgeGuard.Reports.Charts;

namespace EdgeGuard.Reports.Tests;

public sealed class MinMaxDecimationTests
{
    private static readonly Gen<(double T, double V)[]> AnySeries =
        Gen.Select(Gen.Double[0, 1000], Gen.Frequency((9, Gen.Double[-50, 1500]), (1, Gen.Const(double.NaN)))).Array[0, 400]
            .Select(points => points.OrderBy(p => p.Item1).Select(p => (T: p.Item1, V: p.Item2)).ToArray());

    // The oracle is naive: for each pixel column, the lowest and the highest value of all points in it.
    [Fact]
    public void Every_pixel_column_keeps_its_lowest_and_highest_value()
    {
        Gen.Select(AnySeries, Gen.Int[1, 50]).Sample((points, columns) =>
        {
            List<(double T, double V)> thin = MinMaxDecimation.Thin(points, 0, 1000, columns);
            for (int c = 0; c < columns; c++)
            {
                double[] all = InColumn(points, c, columns);
                double[] kept = InColumn(thin, c, columns);
                Assert.Equal(all.Length == 0, kept.Length == 0);
                if (all.Length > 0)
                {
                    Assert.Equal(all.Min(), kept.Min());
                    Assert.Equal(all.Max(), kept.Max());
                }
            }
        });
    }

    [Fact]
    public void The_thinned_series_is_a_subsequence_with_the_same_ends_and_gaps()
    {
        Gen.Select(AnySeries, Gen.Int[1, 50]).Sample((points, columns) =>
        {
            List<(double T, double V)> thin = MinMaxDecimation.Thin(points, 0, 1000, columns);
            int at = 0;
            foreach ((double T, double V) p in thin)
            {
                at = Array.FindIndex(points, at, q => q.Equals(p)) + 1;
                Assert.True(at > 0);
            }

            Assert.Equal(points.Any(p => double.IsNaN(p.V)), thin.Exists(p => double.IsNaN(p.V)));
            if (points.Length > 0)
            {
                Assert.Equal(points[0], thin[0]);
                Assert.Equal(points[^1].V, thin[^1].V);
            }
        });
    }

    [Fact]
    public void A_spike_of_one_sample_in_a_day_survives()
    {
        (double T, double V)[] day = Enumerable.Range(0, 864_000).Select(i => (i * 0.1, i == 123_456 ? 1061.0 : 650.0)).ToArray();
        List<(double T, double V)> thin = MinMaxDecimation.Thin(day, 0, 86_400, 800);
        Assert.InRange(thin.Count, 800, 4 * 800);
        Assert.Contains((12_345.6, 1061.0), thin);
    }

    private static double[] InColumn(IEnumerable<(double T, double V)> points, int column, int columns) => points
        .Where(p => double.IsFinite(p.V) && (int)Math.Min(p.T / 1000 * columns, columns - 1) == column).Select(p => p.V).ToArray();
}
