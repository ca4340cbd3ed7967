using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Tests.Thermal;

/// <summary>
/// Element less outlet against P/ṁ. The heater of these tests is the textbook stream along a wire of one temperature,
/// T_el − T_out = Q/(ṁ c) · 1/(exp(NTU) − 1) with NTU = 2.3 at 140 kg/h and ∝ ṁ^−0.4, gas of 1.04 kJ/kg K.
/// </summary>
public sealed class ModelBandTests
{
    private const int BlockScans = 10;
    private const int SteadyBlocks = 5;

    private static readonly ModelBandTable Table = new()
    {
        Points = [Point(70, 12), Point(105, 18), Point(140, 25)],
        BlockScans = BlockScans,
        SteadyBlocks = SteadyBlocks,
        RatedPowerKw = 36,
    };

    [Fact]
    public void A_point_turns_power_and_flow_into_heat_per_kilogram()
    {
        // 25.2 kW and 140 kg/h are 648 kJ/kg; 64.8 K are 0.1 K for each of them.
        var point = new ModelPoint(140, 25.2, 64.8);
        Assert.Equal(648, point.KjPerKg, 9);
        Assert.Equal(0.1, point.KelvinPerKjPerKg, 12);
    }

    [Trait("requirement", "SENS-5")]
    [Theory]
    [InlineData(70, 5)]
    [InlineData(85, 20)]
    [InlineData(105, 30)]
    [InlineData(120, 10)]
    [InlineData(140, 36)]
    public void A_healthy_heater_lies_within_the_band_at_any_flow_and_power(double flow, double kw)
    {
        ModelBand band = Steady(Sample(flow, kw));
        Assert.True(band.IsJudged);
        Assert.False(band.IsOutside);
        // Straight lines between three points, against the exact exchanger.
        Assert.InRange(band.ExpectedK, DifferenceK(flow, kw) * 0.98, DifferenceK(flow, kw) * 1.02);
    }

    [Trait("requirement", "SENS-5")]
    [Theory]
    [InlineData(-1, false)]
    [InlineData(1, false)]
    [InlineData(-1, true)]
    [InlineData(1, true)]
    public void The_band_ends_at_its_own_uncertainty(int sign, bool beyond)
    {
        // At a point: expected as read. 2·√(2·3² + (D·√(1² + 2² + 5²) %)²), by hand for D = DifferenceK(140, 25).
        double d = DifferenceK(140, 25);
        double u = 2 * Math.Sqrt(18 + (d * d * 30 / 10_000));
        ModelBand band = Steady(Sample(140, 25, sign * (beyond ? u + 0.01 : u - 0.01)));
        Assert.Equal(u, band.UncertaintyK, 9);
        Assert.Equal(d, band.ExpectedK, 9);
        Assert.Equal(beyond, band.IsOutside);
    }

    [Trait("requirement", "SENS-5")]
    [Fact]
    public void Nothing_is_judged_before_it_was_steady_for_the_whole_time()
    {
        var band = new ModelBand(Table);
        for (int block = 1; block <= SteadyBlocks; block++)
        {
            Feed(band, Sample(140, 25, 60));
            Assert.False(band.IsJudged, $"block {block}");
        }

        Feed(band, Sample(140, 25, 60));
        Assert.True(band.IsOutside);
    }

    [Trait("requirement", "SENS-5")]
    [Theory]
    [InlineData(143, 25, 0)]
    [InlineData(148, 25, 0)]
    [InlineData(140, 25.8, 0)]
    [InlineData(140, 25, 2.1)]
    [InlineData(140, double.NaN, 0)]
    [InlineData(double.NaN, 25, 0)]
    public void What_moves_begins_the_time_anew(double flow, double kw, double warmerK)
    {
        // 148 of 140 kg/h is more than 5 %, 25.8 of 25 kW more than 2 % of 36 kW; 143 kg/h is no move.
        ModelBand band = Steady(Sample(140, 25, 60));
        EnergyBalanceSample moved = Sample(140, 25, 60) with { FlowKgPerHour = flow, PowerKw = kw };
        Feed(band, moved with { ElementC = moved.ElementC + warmerK, OutletC = moved.OutletC + warmerK });
        Assert.Equal(flow == 143, band.IsJudged);
    }

    [Theory]
    [InlineData(66, false)]
    [InlineData(67, true)]
    [InlineData(146, true)]
    [InlineData(148, false)]
    public void Flows_beyond_the_points_are_not_judged(double flow, bool judged) =>
        Assert.Equal(judged, Steady(Sample(flow, 20, 90)).IsOutside);

    [Fact]
    public void A_value_that_was_never_good_is_never_judged()
    {
        ModelBand band = Steady(Sample(140, 25) with { OutletC = double.NaN });
        Assert.False(band.IsJudged);
        Assert.False(band.IsOutside);
    }

    [Fact]
    public void Dropping_forgets_the_steady_time()
    {
        ModelBand band = Steady(Sample(140, 25, 60));
        band.Drop();
        Assert.False(band.IsOutside);
        Feed(band, Sample(140, 25, 60));
        Assert.False(band.IsJudged);
    }

    [Fact]
    public void A_slow_drift_is_held_against_the_first_block_and_not_against_the_one_before()
    {
        var band = new ModelBand(Table);
        for (int block = 0; block < 4 * SteadyBlocks; block++)
        {
            // A lining that warms: 0.2 kW less in each block, within the limit from block to block.
            Feed(band, Sample(140, 30, 60) with { PowerKw = 30 - (0.2 * block) });
            Assert.False(band.IsJudged);
        }
    }

    [Fact]
    public void It_allocates_nothing()
    {
        ModelBand band = Steady(Sample(140, 25, 60));
        EnergyBalanceSample sample = Sample(120, 20, 60);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int scan = 0; scan < 100_000; scan++)
        {
            band.Add(sample);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.True(band.IsOutside);
    }

    [Fact]
    public void Points_must_be_two_and_rise()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new ModelBand(Table with { Points = [Point(70, 12)] }));
        Assert.Throws<ArgumentOutOfRangeException>(() => new ModelBand(Table with { Points = [Point(70, 12), Point(70, 18)] }));
    }

    private static double DifferenceK(double flow, double kw) =>
        kw * 3600 / (flow * 1.04) / (Math.Exp(2.3 * Math.Pow(flow / 140, -0.4)) - 1);

    private static ModelPoint Point(double flow, double kw) => new(flow, kw, DifferenceK(flow, kw));

    private static EnergyBalanceSample Sample(double flow, double kw, double offK = 0) => new(kw, flow, 40, 600, 600 + DifferenceK(flow, kw) + offK);

    private static ModelBand Steady(EnergyBalanceSample sample)
    {
        var band = new ModelBand(Table);
        for (int block = 0; block <= SteadyBlocks; block++)
        {
            Feed(band, sample);
        }

        return band;
    }

    private static void Feed(ModelBand band, EnergyBalanceSample sample)
    {
        for (int scan = 1; scan <= BlockScans; scan++)
        {
            Assert.Equal(scan == BlockScans, band.Add(sample));
        }
    }
}
