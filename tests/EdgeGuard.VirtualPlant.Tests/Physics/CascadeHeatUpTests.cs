using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Physics;

/// <summary>
/// T-40 under its cascade: how a 40 kW air heater gets to 1100 °C and back. That 10 to 15 min, ±1 K and 30 K/min are what
/// is asked of such heaters is common practice, without a source.
/// </summary>
public sealed class CascadeHeatUpTests
{
    private const double TargetC = 1100;

    private const double RampKPerHalfSecond = 90.0 / 120.0;

    [Trait("requirement", "PLNT-4")]
    [Theory]
    [InlineData(60)]
    [InlineData(70)]
    [InlineData(80)]
    public void The_indicated_outlet_arrives_in_10_to_15_minutes_and_then_stays_within_a_kelvin(double flowKgPerHour)
    {
        Driver driver = Cold(flowKgPerHour);
        double arrivedMin = 0;
        double furthestK = 0;
        double elementMaxC = 0;
        while (arrivedMin == 0 || Minutes(driver) < arrivedMin + 40)
        {
            Lead(driver, flowKgPerHour);
            double offK = Math.Abs(driver.Cabinet.OutletIndicatedC - TargetC);
            elementMaxC = Math.Max(elementMaxC, driver.Heater.ElementC);
            arrivedMin = arrivedMin == 0 && offK <= 5 ? Minutes(driver) : arrivedMin;
            if (arrivedMin > 0)
            {
                Assert.True(offK <= 5, $"left the 5 K again: {offK:F1} K off at {Minutes(driver):F1} min");
            }

            if (arrivedMin > 0 && Minutes(driver) > arrivedMin + 10)
            {
                furthestK = Math.Max(furthestK, offK);
            }

            Assert.True(arrivedMin > 0 || Minutes(driver) < 16, $"not arrived after 16 min, {offK:F0} K off");
        }

        Assert.InRange(arrivedMin, 10, 15);
        Assert.InRange(furthestK, 0, 1);
        // Element alarm of the profile.
        Assert.InRange(elementMaxC, TargetC, 1230);
    }

    /// <summary>118 kg/h of air from 20 to 1100 °C take 118 × 0.33057 = 39.0 kW, and the loss takes the rest of the 40.</summary>
    [Trait("requirement", "PLNT-4")]
    [Fact]
    public void At_118_kg_an_hour_it_never_arrives()
    {
        Driver driver = Cold(118);
        while (Minutes(driver) < 60)
        {
            Lead(driver, 118);
            Assert.True(driver.Cabinet.OutletIndicatedC < TargetC - 5, $"arrived after {Minutes(driver):F1} min");
        }

        Assert.Equal(100.0, driver.Cabinet.OutputPercent, 1.0);
    }

    /// <summary>Held flow as in the reference, and a blower at fixed speed, which moves more mass as the gas cools.</summary>
    [Trait("requirement", "COOL-1")]
    [Trait("requirement", "PLNT-4")]
    [Theory]
    [InlineData(60.0)]
    [InlineData(90.0)]
    [InlineData(0.0)]
    public void A_powered_cool_down_keeps_30_K_a_minute_until_no_power_is_left_and_never_exceeds_31(double heldKgPerHour)
    {
        Driver driver = Hot(heldKgPerHour);
        var outlet = new Queue<double>();
        double setpointC = TargetC;
        double startMin = Minutes(driver);
        double endedMin = 0;
        while (driver.Cabinet.OutletIndicatedC > 150)
        {
            setpointC = Math.Max(20, setpointC - 0.25);
            driver.Setpoint(setpointC);
            Run(driver, heldKgPerHour);
            endedMin = endedMin == 0 && driver.Cabinet.OutputPercent <= 0 ? Minutes(driver) : endedMin;
            outlet.Enqueue(driver.Cabinet.OutletIndicatedC);
            // 60 s in half seconds; windows that begin 30 s after the start or later.
            if (outlet.Count > 120)
            {
                double rate = outlet.Dequeue() - driver.Cabinet.OutletIndicatedC;
                bool judged = Minutes(driver) - startMin >= 1.5;
                Assert.True(!judged || rate <= 31, $"{rate:F2} K/min at {driver.Cabinet.OutletIndicatedC:F0} °C");
                Assert.True(!judged || endedMin > 0 || rate >= 29, $"{rate:F2} K/min at {driver.Cabinet.OutletIndicatedC:F0} °C with {driver.Heater.PowerKw:F1} kW");
            }

            Assert.True(Minutes(driver) - startMin < 240, "never cool");
        }

        Assert.True(endedMin > startMin + 15, $"power ended {endedMin - startMin:F1} min after the start: that was no powered cool-down");
    }

    private static Driver Cold(double flowKgPerHour)
    {
        // A blower that has the flow in reserve; the heater is the same.
        var driver = new Driver(PlantProfiles.T40 with { HotFlowKgPerHour = Math.Max(flowKgPerHour, 70) });
        driver.Energise();
        driver.Setpoint(20);
        return driver;
    }

    private static Driver Hot(double heldKgPerHour)
    {
        Driver driver = Cold(heldKgPerHour == 0 ? 70 : heldKgPerHour);
        while (Minutes(driver) < 60)
        {
            driver.Setpoint(Math.Min(TargetC, 20 + (Minutes(driver) * 90)));
            Run(driver, heldKgPerHour);
        }

        Assert.InRange(driver.Cabinet.OutletIndicatedC, TargetC - 1, TargetC + 1);
        return driver;
    }

    private static void Run(Driver driver, double heldKgPerHour)
    {
        if (heldKgPerHour > 0)
        {
            driver.RunAtFlow(heldKgPerHour);
        }
        else
        {
            driver.Run(0.5);
        }
    }

    private static void Lead(Driver driver, double flowKgPerHour)
    {
        driver.Setpoint(Math.Min(TargetC, driver.Cabinet.Registers.SetpointC + RampKPerHalfSecond));
        driver.RunAtFlow(flowKgPerHour);
    }

    private static double Minutes(Driver driver) => driver.Plant.NowMs / 60_000.0;
}
