using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Tests.Thermal;

public sealed class EnergyBalanceTests
{
    private const double LossKwPerK = 0.0014;

    private static readonly EnergyBalanceTable Table = new()
    {
        Gas = Gas.Nitrogen,
        RatedPowerKw = 36,
        BlockScans = 10,
        ScanSeconds = 6,
        StoredKJPerK = 12,
        LossMaxKwPerK = 0.01,
        LearnBlocks = 5,
    };

    // NASA-9 (NASA/TP-2002-211556), nitrogen 20 → 600 °C: 625.01 kJ/kg, so 140 kg/h take 24.306 kW. The heater of the
    // test loses 1.4 W/K at 680 °C: 0.917 kW.
    private static readonly EnergyBalanceSample Steady = new(24.306 + (LossKwPerK * 655), 140, 20, 600, 680);

    [Fact]
    public void A_loss_is_learnt_and_the_residual_then_vanishes()
    {
        var balance = new EnergyBalance(Table);
        Feed(balance, Steady, 5);
        Assert.True(balance.IsLearnt);
        Assert.Equal(LossKwPerK, balance.LossKwPerK, 0.02 * LossKwPerK);
        Assert.Equal(0, balance.ResidualKw, 0.02);
        Assert.False(balance.Disagrees);
    }

    // By hand from the table: 1 % of 25.223 kW is 0.252; 2 % of 24.306 is 0.486; 3 K at the outlet 140/3600·1.125·3 = 0.131
    // (nitrogen, 873 K: cp 31.5 J/mol K = 1.125 kJ/kg K), at the inlet 140/3600·1.040·3 = 0.121; 20 % of 0.917 is 0.183.
    // Root of the sum of squares 0.602, twice that 1.204.
    [Trait("requirement", "THRM-5")]
    [Fact]
    public void The_uncertainty_is_the_root_of_the_sum_of_squares()
    {
        var balance = new EnergyBalance(Table);
        Feed(balance, Steady, 5);
        Assert.Equal(1.204, balance.UncertaintyKw, 0.01);
    }

    // Power ±0.3 kW from block to block while learning: the loss of 5 blocks scatters by 0.3 √(1.2/5) = 0.147 kW, its mean lies
    // 0.06 kW higher (20 % of 0.977 is 0.195), power of the last block 25.523: squares 0.0651 + 0.2363 + 0.0172 + 0.0147 + 0.0382
    // + 0.0216 = 0.3931, twice the root 1.254. Without the scatter it would be 1.219.
    [Fact]
    public void The_scatter_of_what_was_learnt_is_part_of_the_uncertainty()
    {
        var balance = new EnergyBalance(Table);
        for (int i = 0; i < 5; i++)
        {
            Feed(balance, Steady with { PowerKw = Steady.PowerKw + (i % 2 == 0 ? 0.3 : -0.3) }, 1);
        }

        Assert.Equal(1.254, balance.UncertaintyKw, 0.01);
    }

    [Trait("requirement", "THRM-5")]
    [Theory]
    [InlineData(0.90)]
    [InlineData(1.10)]
    public void A_meter_ten_per_cent_off_disagrees_and_three_per_cent_do_not(double flowShare)
    {
        var balance = new EnergyBalance(Table);
        Feed(balance, Steady, 5);
        Feed(balance, Steady with { FlowKgPerHour = 140 * flowShare }, 1);
        Assert.True(balance.Disagrees);
        Assert.Equal(24.306 * (1 - flowShare), balance.ResidualKw, 0.05);
        Feed(balance, Steady with { FlowKgPerHour = 140 * (1 + ((flowShare - 1) * 0.3)) }, 1);
        Assert.False(balance.Disagrees);
    }

    // What is learnt stands still: a drift is not swallowed, however slow.
    [Trait("requirement", "THRM-6")]
    [Fact]
    public void A_drift_after_learning_is_not_learnt()
    {
        var balance = new EnergyBalance(Table);
        Feed(balance, Steady, 5);
        double learnt = balance.LossKwPerK;
        for (int i = 0; i < 100; i++)
        {
            Feed(balance, Steady with { FlowKgPerHour = 140 * (1 - (i * 0.002)) }, 1);
        }

        Assert.Equal(learnt, balance.LossKwPerK);
        Assert.True(balance.Disagrees);
        balance.LearnAnew();
        Assert.False(balance.IsLearnt);
        Assert.False(balance.Disagrees);
    }

    [Trait("requirement", "THRM-6")]
    [Fact]
    public void What_is_learnt_is_bounded()
    {
        var balance = new EnergyBalance(Table);
        Feed(balance, Steady with { FlowKgPerHour = 70 }, 5);
        Assert.Equal(Table.LossMaxKwPerK, balance.LossKwPerK, 1e-12);
        Assert.True(balance.Disagrees);

        var other = new EnergyBalance(Table);
        Feed(other, Steady with { FlowKgPerHour = 160 }, 5);
        Assert.Equal(0, other.LossKwPerK);
        Assert.True(other.Disagrees);
    }

    [Trait("requirement", "THRM-6")]
    [Fact]
    public void Nothing_is_learnt_cold_or_moving_or_from_bad_values()
    {
        var balance = new EnergyBalance(Table);
        Feed(balance, new EnergyBalanceSample(1, 140, 20, 45, 60), 3);
        Feed(balance, Steady with { InletC = double.NaN }, 3);
        Feed(balance, Steady with { PowerKw = double.NaN }, 3);
        Feed(balance, Steady with { FlowKgPerHour = 0 }, 3);
        for (int i = 0; i < 30; i++)
        {
            balance.Add(Steady with { ElementC = 680 + i });
        }

        for (int i = 0; i < 30; i++)
        {
            balance.Add(Steady with { FlowKgPerHour = i % 2 == 0 ? 140 : 150 });
        }

        Assert.Equal(0, balance.LearntBlocks);
        Assert.False(balance.IsSteady);
        Assert.False(balance.Disagrees);
    }

    // The wire takes 12 kJ/K · 1.8 K / 54 s = 0.4 kW while it warms: power without a counterpart in the gas.
    [Fact]
    public void Stored_heat_is_taken_off()
    {
        var balance = new EnergyBalance(Table);
        Feed(balance, Steady, 5);
        for (int i = 0; i < 10; i++)
        {
            balance.Add(Steady with { PowerKw = Steady.PowerKw + 0.4, ElementC = 680 + (0.2 * i) });
        }

        Assert.True(balance.IsSteady);
        Assert.Equal(0, balance.ResidualKw, 0.02);
    }

    [Fact]
    public void A_gap_drops_the_block_under_way()
    {
        var balance = new EnergyBalance(Table);
        for (int i = 0; i < 9; i++)
        {
            Assert.False(balance.Add(Steady));
        }

        balance.DropBlock();
        Assert.False(balance.Add(Steady));
        Assert.Equal(0, balance.LearntBlocks);
    }

    [Fact]
    public void A_scan_allocates_nothing()
    {
        var balance = new EnergyBalance(Table);
        Feed(balance, Steady, 2);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Feed(balance, Steady, 1_000);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private static void Feed(EnergyBalance balance, in EnergyBalanceSample sample, int blocks)
    {
        for (int i = 0; i < blocks * Table.BlockScans; i++)
        {
            balance.Add(sample);
        }
    }
}
