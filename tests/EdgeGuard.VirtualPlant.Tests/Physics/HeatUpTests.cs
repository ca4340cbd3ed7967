using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Physics;

/// <summary>
/// A led heat-up from cold stays below the alarms of the profile, so that a demonstration does not trip by itself, and
/// settles within ±1 K (common practice, no source).
/// </summary>
public sealed class HeatUpTests
{
    [Theory]
    [InlineData("N-1", 60.0, 680.0, 800.0)]
    [InlineData("A-1", 30.0, 240.0, 350.0)]
    public void A_led_heat_up_stays_below_the_alarms_and_settles(string name, double rampKPerMin, double outletAlarmC, double elementAlarmC)
    {
        Assert.True(PlantProfiles.TryFind(name, out PlantProfile? profile));
        var driver = new Driver(profile);
        driver.Energise();
        // Flow first: the setpoint still stands at ambient.
        driver.Run(30);
        double outletMaxC = 0;
        double elementMaxC = 0;
        for (double setpointC = profile.InletC; driver.Plant.NowMs < 1_500_000; setpointC += rampKPerMin / 120)
        {
            driver.Setpoint(Math.Min(setpointC, profile.SetpointC));
            driver.Run(0.5);
            outletMaxC = Math.Max(outletMaxC, driver.Cabinet.OutletIndicatedC);
            elementMaxC = Math.Max(elementMaxC, driver.Heater.ElementC);
        }

        Assert.InRange(outletMaxC, profile.SetpointC, outletAlarmC);
        Assert.InRange(elementMaxC, profile.SetpointC, elementAlarmC);
        Assert.InRange(driver.Cabinet.OutletIndicatedC, profile.SetpointC - 1, profile.SetpointC + 1);
        Assert.Equal(0, driver.Cabinet.Ledger.Flow.PoweredUnderMinimumMs);
    }
}
