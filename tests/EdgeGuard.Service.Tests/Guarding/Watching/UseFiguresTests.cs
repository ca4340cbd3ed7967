using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Records.Kept;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Guarding.Watching;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Tests.Guarding.Watching;

public sealed class UseFiguresTests
{
    private const int ScanMs = 100;
    private const int HalfAnHour = 18_000;

    [Fact]
    public void Each_figure_goes_from_the_counters_to_its_place_in_the_ring()
    {
        var watch = new UnitWatch(GuardSites.Table().Units[0], ScanMs);
        watch.Restore(new KeptRecord { SinceUtcMs = 1_764_000_000_000 }, taken: true);
        Heat(watch.Duty);
        Stress(watch.Stress);
        ScanRingUse ring = UseFigures.Of(watch);

        // Each figure another, so that none can stand in the place of another.
        Assert.Equal((1_764_000_000_000.0, 0.0, double.NaN), (ring.SinceUtcMs, ring.LossBlocks, ring.LossWattsPerK));
        double[] figures = [ring.EnergyKwh, ring.PoweredHours, ring.ContactorClosings, ring.OpeningsUnderPower, ring.LedCycles, ring.ForcedCycles, ring.DeepestLedK, ring.DeepestForcedK, ring.FastestRiseKPerMin, ring.FastestLedFallKPerMin, ring.FastestForcedFallKPerMin, ring.LedExcessSeconds, ring.ForcedExcessSeconds];
        double[] expected = [0.5, HalfAnHour * 0.1 / 3600, 4, 3, 1, 2, 400, 600, 50, 70, 90, 0.1, 0.2];
        Assert.Equal(expected, figures);
    }

    [Fact]
    public void Each_figure_goes_to_its_place_in_the_status()
    {
        var snapshot = new UnitSnapshot
        {
            Use = new ScanRingUse
            {
                EnergyKwh = 1.5,
                PoweredHours = 2,
                ContactorClosings = 3,
                OpeningsUnderPower = 4,
                LedCycles = 5,
                ForcedCycles = 6,
                DeepestLedK = 7,
                DeepestForcedK = 8,
                FastestRiseKPerMin = 9,
                FastestLedFallKPerMin = 10,
                FastestForcedFallKPerMin = 11,
                LedExcessSeconds = 12,
                ForcedExcessSeconds = 13,
                SinceUtcMs = 14,
                LossWattsPerK = 15,
                LossBlocks = 16,
                NoiseElementK = 17,
                NoiseOutletK = 18,
                NoiseFlowKgPerHour = 19,
                FirstLegPercent = 20,
                SecondLegPercent = 21,
                ThirdLegPercent = 22,
                LegReadings = 23,
                LegPercentPerYear = 24,
                LegWarnUtcMs = 25,
                LegWarnEarliestUtcMs = 26,
                LegWarnLatestUtcMs = 27,
            },
        };
        UseStatus use = UnitTexts.Use(snapshot);
        double[] figures = [use.KilowattHours, use.PoweredHours, use.ContactorClosings, use.OpeningsUnderPower, use.LedCycles, use.ForcedCycles, use.DeepestLedK, use.DeepestForcedK, use.FastestRiseKPerMin, use.FastestLedFallKPerMin, use.FastestForcedFallKPerMin, use.LedExcessSeconds, use.ForcedExcessSeconds, use.SinceUtcMs, use.LossWattsPerK!.Value, use.LossBlocks, use.NoiseElementK, use.NoiseOutletK, use.NoiseFlowKgPerHour, .. use.Legs!.Percent, use.Legs.Readings, use.Legs.PercentPerYear!.Value, use.Legs.WarnUtcMs!.Value, use.Legs.EarliestUtcMs!.Value, use.Legs.LatestUtcMs!.Value];
        Assert.Equal([1.5, .. Enumerable.Range(2, 26).Select(static i => (double)i)], figures);
    }

    // Days 0 to 5 with ten cycles: 1 % a day from 0, the 10 % of the warning on day 10; the scatter of the slope is none.
    [Fact]
    public void Legs_tell_their_deviation_and_the_day_of_the_warning()
    {
        UnitTable table = GuardSites.Table().Units[0];
        var watch = new UnitWatch(table with { Phas = table.Phas! with { Alloy = "NiCr 80-20" } }, ScanMs);
        var trend = new LegTrend(4.4);
        for (int day = 0; day <= 5; day++)
        {
            trend.Add(20_000 + day, 4.4 * (1 + (0.01 * day)), 2);
        }

        var record = new KeptRecord { LegDay = 20_005 };
        record.Legs.AsSpan().Fill(new LegFigures { BaselineOhm = 4.4, Trend = trend.State });
        watch.Restore(record, taken: true);
        ScanRingUse ring = UseFigures.Of(watch);
        Assert.Equal((5.0, 5.0, 5.0, 6.0), (Math.Round(ring.FirstLegPercent, 9), Math.Round(ring.SecondLegPercent, 9), Math.Round(ring.ThirdLegPercent, 9), ring.LegReadings));
        Assert.Equal(365.25, ring.LegPercentPerYear, 1e-6);
        Assert.Equal(20_010 * 86_400_000.0, ring.LegWarnUtcMs, 1e6);

        // It goes back as it came; a site without an alloy follows no legs.
        var kept = new KeptRecord();
        watch.Keep(kept);
        Assert.Equal((record.Legs[2], 20_005), (kept.Legs[2], kept.LegDay));
        Assert.Null(new UnitWatch(table, ScanMs).Legs);
    }

    // Half an hour at 1 kW; the contactor closes four times and opens three times under power.
    private static void Heat(DutyCounter duty)
    {
        for (int i = 0; i < HalfAnHour; i++)
        {
            duty.Add(1, 0.5, i < 8 ? i % 2 == 1 : null);
        }
    }

    // A led fall of 400 K, forced ones of 600 and 100 K, the site's cap of 30 K/min passed in one scan and in two.
    private static void Stress(StressLedger stress)
    {
        stress.Add(900, 50, StressCause.Led);
        stress.Add(500, -70, StressCause.Led);
        stress.Add(600, 0, StressCause.Led);
        stress.Add(1000, 0, StressCause.Led);
        stress.Add(400, -90, StressCause.ForcedByTrip);
        stress.Add(600, 0, StressCause.Led);
        stress.Add(500, -60, StressCause.ForcedByTrip);
        stress.Add(560, 0, StressCause.Led);
    }
}
