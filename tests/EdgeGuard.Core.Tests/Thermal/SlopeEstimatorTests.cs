using CsCheck;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Tests.Thermal;

public sealed class SlopeEstimatorTests
{
    [Theory]
    [InlineData(60, 1.0, 30)]
    [InlineData(600, 0.1, -30)]
    [InlineData(2, 0.1, 120)]
    public void A_straight_line_gives_its_own_slope(int samples, double period, double kPerMinute)
    {
        var slope = new SlopeEstimator(samples, period);
        for (int i = 0; i < samples * 3; i++)
        {
            slope.Add(650 + (kPerMinute / 60 * period * i));
        }

        Assert.True(slope.IsFull);
        Assert.Equal(kPerMinute, slope.KPerMinute, 6);
    }

    // By hand: y = 0, 1, 4, 9 at 1 s: slope = (4·(0·0+1·1+2·4+3·9) − 6·14) / (4·14 − 36) = 3 K/s.
    [Fact]
    public void The_worked_example_by_hand_agrees()
    {
        var slope = new SlopeEstimator(4, 1);
        foreach (double y in (double[])[0, 1, 4, 9])
        {
            slope.Add(y);
        }

        Assert.Equal(180, slope.KPerMinute, 12);
    }

    [Fact]
    public void The_window_agrees_with_a_naive_fit_bit_for_bit_wherever_it_stands_in_the_ring()
    {
        Gen.Double[0, 1200].Array[20, 60].Sample(samples =>
        {
            var running = new SlopeEstimator(15, 0.5);
            foreach (double y in samples)
            {
                running.Add(y);
            }

            var fresh = new SlopeEstimator(15, 0.5);
            foreach (double y in samples[^15..])
            {
                fresh.Add(y);
            }

            Assert.Equal(BitConverter.DoubleToInt64Bits(fresh.KPerMinute), BitConverter.DoubleToInt64Bits(running.KPerMinute));
            Assert.Equal(NaiveKPerMinute(samples[^15..], 0.5), running.KPerMinute, 6);
        });
    }

    [Fact]
    public void Decimation_keeps_the_slope_of_a_line()
    {
        var slope = new SlopeEstimator(600, 0.1, 10);
        for (int i = 0; i < 599; i++)
        {
            slope.Add(1000 - (0.05 * i));
        }

        Assert.False(slope.IsFull);
        slope.Add(1000 - (0.05 * 599));
        Assert.True(slope.IsFull);
        Assert.Equal(-30, slope.KPerMinute, 6);
    }

    [Fact]
    public void A_gap_or_a_value_that_is_no_number_empties_the_window()
    {
        var slope = new SlopeEstimator(3, 1);
        foreach (double y in (double[])[1, 2, 3, double.NaN])
        {
            slope.Add(y);
        }

        Assert.False(slope.IsFull);
        Assert.Equal(0, slope.KPerMinute);
        slope.Add(100);
        slope.Add(101);
        slope.Add(102);
        Assert.Equal(60, slope.KPerMinute, 9);
        slope.Clear();
        Assert.False(slope.IsFull);
    }

    // Least-squares theory: σ 0.5 K at 1 s over 30 samples gives 0.0105 K/s = 0.63 K/min, over 60 samples 0.22 K/min.
    // The estimate must scatter that much: 4000 windows estimate a deviation to about 1.1 %, tolerance 5 %.
    [Trait("requirement", "THRM-4")]
    [Theory]
    [InlineData(30, 0.63)]
    [InlineData(60, 0.22)]
    public void The_scatter_of_the_slope_is_that_of_least_squares_theory(int samples, double expected)
    {
        double formula = SlopeEstimator.NoiseKPerMinute(0.5, samples, 1);
        Assert.Equal(expected, formula, 2);
        var random = new Random(4711);
        var slope = new SlopeEstimator(samples, 1);
        double sum = 0;
        for (int window = 0; window < 4000; window++)
        {
            for (int i = 0; i < samples; i++)
            {
                slope.Add(650 + (0.5 * Normal(random)));
            }

            sum += slope.KPerMinute * slope.KPerMinute;
        }

        Assert.InRange(Math.Sqrt(sum / 4000) / formula, 0.95, 1.05);
    }

    [Fact]
    public void A_window_that_is_no_window_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new SlopeEstimator(1, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new SlopeEstimator(10, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new SlopeEstimator(10, double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => new SlopeEstimator(10, 1, 0));
    }

    private static double NaiveKPerMinute(double[] y, double period)
    {
        double n = y.Length, st = 0, sy = 0, stt = 0, sty = 0;
        for (int i = 0; i < y.Length; i++)
        {
            double t = i * period;
            st += t;
            sy += y[i];
            stt += t * t;
            sty += t * y[i];
        }

        return 60 * ((n * sty) - (st * sy)) / ((n * stt) - (st * st));
    }

    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
