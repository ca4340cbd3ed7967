using EdgeGuard.Records.Ring;
using EdgeGuard.Service.Guarding.Watching;

namespace EdgeGuard.Service.Tests.Guarding.Watching;

public sealed class UseFiguresTests
{
    [Fact]
    public void Each_figure_goes_to_its_place_in_the_ring()
    {
        ScanRingUse ring = new UseFigures
        {
            WattHours = 1_500,
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
        }.ForRing();
        Assert.Equal(1.5, ring.EnergyKwh); // kWh
        double[] figures = [ring.PoweredHours, ring.ContactorClosings, ring.OpeningsUnderPower, ring.LedCycles, ring.ForcedCycles, ring.DeepestLedK, ring.DeepestForcedK, ring.FastestRiseKPerMin, ring.FastestLedFallKPerMin, ring.FastestForcedFallKPerMin, ring.LedExcessSeconds, ring.ForcedExcessSeconds];
        Assert.Equal(Enumerable.Range(2, 12).Select(static i => (double)i), figures);
    }
}
