using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Tests.Thermal;

public sealed class StressLedgerTests
{
    private static readonly StressTable Table = new() { ScanSeconds = 1, CapKPerMin = 30 };

    [Trait("requirement", "THRM-7")]
    [Fact]
    public void A_led_cycle_and_a_forced_one_are_told_apart()
    {
        var ledger = new StressLedger(Table);
        Go(ledger, 20, 700, 60, StressCause.Led);
        Go(ledger, 700, 100, -30, StressCause.Led);
        Go(ledger, 100, 800, 60, StressCause.Led);
        Go(ledger, 800, 300, -400, StressCause.ForcedByTrip);
        Assert.Equal((1, 0), (ledger.LedCycles, ledger.ForcedCycles));
        Go(ledger, 300, 400, 60, StressCause.Led);
        Assert.Equal((1, 1), (ledger.LedCycles, ledger.ForcedCycles));
        Assert.Equal(600, ledger.DeepestLedK, 1.1);
        Assert.Equal(500, ledger.DeepestForcedK, 7);
        Assert.Equal(60, ledger.FastestRiseKPerMin);
        Assert.Equal(30, ledger.FastestLedFallKPerMin);
        Assert.Equal(400, ledger.FastestForcedFallKPerMin);
        Assert.Equal(0, ledger.LedExcessSeconds);
        Assert.Equal(75, ledger.ForcedExcessSeconds, 1.0);
    }

    // A cool-down that was led until it tripped counts as forced: the severe part is in it.
    [Trait("requirement", "THRM-7")]
    [Fact]
    public void A_fall_that_a_trip_took_part_in_is_forced()
    {
        var ledger = new StressLedger(Table);
        Go(ledger, 700, 500, -30, StressCause.Led);
        Go(ledger, 500, 300, -400, StressCause.ForcedByTrip);
        Go(ledger, 300, 290, -20, StressCause.Led);
        Go(ledger, 290, 500, 60, StressCause.Led);
        Assert.Equal((0, 1), (ledger.LedCycles, ledger.ForcedCycles));
    }

    // Ripple of a controller below the cycle depth is no cycle; a dip of just that depth is.
    [Theory]
    [InlineData(49, 0)]
    [InlineData(50, 3)]
    public void Small_ripple_is_no_cycle(double dipK, int cycles)
    {
        var ledger = new StressLedger(Table);
        for (int i = 0; i < 3; i++)
        {
            ledger.Add(700, double.NaN, StressCause.Led);
            ledger.Add(700 - dipK, double.NaN, StressCause.Led);
            ledger.Add(700, double.NaN, StressCause.Led);
        }

        Assert.Equal(cycles, ledger.LedCycles);
        Assert.Equal(0, ledger.ForcedCycles);
    }

    [Fact]
    public void Hours_go_into_the_band_that_holds_the_temperature()
    {
        var ledger = new StressLedger(Table);
        foreach (double celsius in new[] { 299.9, 300, 499.9, 500, 1099, 1100, 1500, double.NaN })
        {
            for (int i = 0; i < 3600; i++)
            {
                ledger.Add(celsius, 0, StressCause.Led);
            }
        }

        Assert.Equal([2, 1, 0, 0, 1, 1, 1], Enumerable.Range(0, 7).Select(ledger.BandHours));
        Assert.Equal(3600, ledger.UnknownSeconds);
    }

    [Fact]
    public void Bands_that_do_not_rise_are_refused() =>
        Assert.Throws<ArgumentException>(() => new StressLedger(Table with { BandsC = [500, 500] }));

    // By hand: 36 kW for an hour are 36 kWh; 1 W for 3600 s is 1 Wh, however small the steps.
    [Trait("requirement", "THRM-8")]
    [Fact]
    public void Energy_adds_up_without_loss()
    {
        var counter = new DutyCounter(0.1);
        for (int i = 0; i < 36_000; i++)
        {
            counter.Add(36, 1, null);
        }

        Assert.InRange(counter.WattHours, 35_999, 36_000);
        Assert.Equal(1, counter.PoweredHours, 1e-9);
        for (int i = 0; i < 36_100; i++)
        {
            counter.Add(0.001, 1, null);
        }

        Assert.Equal(36_001, counter.WattHours);
        counter.Add(double.NaN, 1, null);
        counter.Add(-5, 1, null);
        Assert.Equal(0.1, counter.UnknownSeconds, 1e-12);
        Assert.Equal(36_001, counter.WattHours);
        Assert.Equal(1, counter.PoweredHours, 1e-9);
    }

    [Trait("requirement", "THRM-8")]
    [Fact]
    public void Contactor_operations_are_counted_from_the_second_sight_on()
    {
        var counter = new DutyCounter(0.1);
        counter.Add(0, 1, true);
        counter.Add(0, 1, false);
        counter.Add(0, 1, true);
        counter.Add(30, 1, true);
        counter.Add(30, 1, null);
        counter.Add(0, 1, false);
        counter.Add(0, 1, true);
        Assert.Equal(2, counter.ContactorClosings);
        Assert.Equal(1, counter.OpeningsUnderPower);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(double.NaN)]
    public void A_counter_needs_a_scan_period(double seconds) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new DutyCounter(seconds));

    [Fact]
    public void A_scan_allocates_nothing()
    {
        var ledger = new StressLedger(Table);
        var counter = new DutyCounter(0.1);
        Go(ledger, 20, 700, 60, StressCause.Led);
        counter.Add(1, 1, true);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Go(ledger, 700, 100, -30, StressCause.ForcedByTrip);
        for (int i = 0; i < 1000; i++)
        {
            counter.Add(i, 1, i % 7 == 0);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private static void Go(StressLedger ledger, double from, double to, double kPerMin, StressCause cause)
    {
        for (double t = from; kPerMin > 0 ? t <= to : t >= to; t += kPerMin / 60)
        {
            ledger.Add(t, kPerMin, cause);
        }
    }
}
