using EdgeGuard.VirtualPlant.Physics;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Physics;

/// <summary>
/// The figures of the two-lump reference that <see cref="ReferencePlantTests"/> leaves open, one row each: what the
/// reference says, what the plant does, and how far they may lie apart. 10 % unless the row says why not. Where the
/// profile's own facts put a bound on a figure that the reference exceeds, the plant is held against the bound.
/// </summary>
public sealed class ReferenceTableTests
{
    private const double Usual = 0.10;

    public static TheoryData<string, double, double> Figures => new()
    {
        { "N-1 gas heat, kW", 25.7, Usual },
        { "A-1 gas heat, kW", 8.45, Usual },
        { "T-40 arrives within 5 K at 60 kg/h, min", 12.4, Usual },
        { "T-40 arrives within 5 K at 80 kg/h, min", 14.0, Usual },
        { "T-40 within 1 K for good at 60 kg/h, min", 12.9, Usual },
        { "T-40 within 1 K for good at 80 kg/h, min", 14.4, Usual },
        { "T-40 power at 1050 °C while led down at 90 kg/h, kW", 27.0, Usual },
        { "N-1 element limit to destruction without flow at 110 % voltage, s", 15.0, Usual },
        // The reference is the bare P/(m c); at the slow rise of A-1 the lining takes a tenth of the heat meanwhile.
        { "A-1 element limit to destruction without flow at 110 % voltage, s", 20.0, 0.15 },
        { "T-40 element limit to destruction without flow at 110 % voltage, s", 4.5, Usual },
    };

    [Theory]
    [MemberData(nameof(Figures))]
    public void The_plant_gives_the_figure_of_the_reference(string figure, double reference, double tolerance) =>
        Assert.InRange(Measure(figure), reference * (1 - tolerance), reference * (1 + tolerance));

    /// <summary>
    /// The reference loses 1.0 kW in N-1 and 0.2 kW in A-1. With the profile's loss per kelvin that would need a lining
    /// hotter than the element that heats it, so these are rounded up; the plant stays below the bound and near it.
    /// </summary>
    [Theory]
    [InlineData("N-1", 728)]
    [InlineData("A-1", 245)]
    public void The_loss_is_near_what_a_lining_as_hot_as_the_element_would_lose(string name, double elementC)
    {
        HeaterState s = Steady(name, out PlantProfile profile);
        double boundKw = profile.LossWPerK / 1000 * (elementC - profile.AmbientC);
        Assert.InRange(s.LossKw, boundKw * 0.85, boundKw);
    }

    /// <summary>
    /// The reference needs no power any more at about 350 °C (T-40 at its steady flow) and at 289 °C (40 kW, 90 kg/h).
    /// At 30 K/min element and lining of T-40 together release 0.5 K/s of 12.4 kJ/K at the most, which heats 90 kg/h by
    /// no more than 250 K. So the reference had another lining there; the plant is held below the bound.
    /// </summary>
    [Fact]
    public void No_power_is_needed_any_more_below_what_the_stored_heat_can_carry()
    {
        PlantProfile p = PlantProfiles.T40;
        double releasedKw = 0.5 * ((p.WireKg * p.WireKjPerKgK * p.Cascade!.ElementPerOutlet) + p.LiningKjPerK);
        double bound = p.InletC;
        while (90 / 3600.0 * (GasEnthalpy.KjPerKg(p.Gas, bound) - GasEnthalpy.KjPerKg(p.Gas, p.InletC)) < releasedKw)
        {
            bound++;
        }

        Assert.InRange(bound, 240, 285);
        (_, double zeroC) = LedDown(90);
        Assert.InRange(zeroC, bound * 0.7, bound);
    }

    private static double Measure(string figure)
    {
        string name = figure.Split(' ')[0];
        return figure switch
        {
            _ when figure.Contains("gas heat", StringComparison.Ordinal) => Steady(name, out _).GasKw,
            _ when figure.Contains("within 5 K", StringComparison.Ordinal) => HeatUp(figure, 5),
            _ when figure.Contains("within 1 K", StringComparison.Ordinal) => HeatUp(figure, 1),
            _ when figure.Contains("led down", StringComparison.Ordinal) => LedDown(90).At1050Kw,
            _ => DryFire(name),
        };
    }

    private static HeaterState Steady(string name, out PlantProfile profile)
    {
        Assert.True(PlantProfiles.TryFind(name, out PlantProfile? found));
        profile = found;
        var driver = new Driver(profile);
        driver.Steady(4000);
        return driver.Heater;
    }

    /// <summary>Minutes until the indicated outlet is within a band around 1100 °C for good (of 40 min).</summary>
    private static double HeatUp(string figure, double bandK)
    {
        double flow = figure.Contains("80 kg", StringComparison.Ordinal) ? 80 : 60;
        var driver = new Driver(PlantProfiles.T40 with { HotFlowKgPerHour = 80 });
        driver.Energise();
        driver.Setpoint(20);
        double sinceMin = 0;
        while (driver.Plant.NowMs < 40 * 60_000)
        {
            driver.Setpoint(Math.Min(1100, driver.Cabinet.Registers.SetpointC + 0.75));
            driver.RunAtFlow(flow);
            bool within = Math.Abs(driver.Cabinet.OutletIndicatedC - 1100) <= bandK;
            sinceMin = !within ? 0 : sinceMin > 0 ? sinceMin : driver.Plant.NowMs / 60_000.0;
        }

        return sinceMin;
    }

    /// <summary>Power as the outlet passes 1050 °C, and the outlet at which no power is asked for any more.</summary>
    private static (double At1050Kw, double ZeroC) LedDown(double flow)
    {
        var driver = new Driver(PlantProfiles.T40 with { HotFlowKgPerHour = flow });
        driver.Steady();
        for (int i = 0; i < 1200; i++)
        {
            driver.RunAtFlow(flow);
        }

        double setpoint = 1100;
        double at1050Kw = 0;
        while (driver.Cabinet.OutputPercent > 0)
        {
            setpoint -= 0.25;
            driver.Setpoint(setpoint);
            driver.RunAtFlow(flow);
            at1050Kw = at1050Kw == 0 && driver.Cabinet.OutletIndicatedC <= 1050 ? driver.Heater.PowerKw : at1050Kw;
        }

        return (at1050Kw, driver.Cabinet.OutletIndicatedC);
    }

    /// <summary>Seconds from the element trip limit to destruction at 110 % voltage without flow, the lining as hot as the limit.</summary>
    private static double DryFire(string name)
    {
        Assert.True(PlantProfiles.TryFind(name, out PlantProfile? profile));
        HeaterState state = HeaterState.Cold(profile.AmbientC);
        (state.ElementC, state.LiningC) = (profile.Limits.ElementTripC, profile.Limits.ElementTripC);
        int steps = 0;
        while (state.ElementC < profile.Limits.ElementDestructionC)
        {
            HeaterModel.Step(profile, state, profile.RatedKw * 1.21, 0.0, 1.0, 5);
            steps++;
        }

        return steps * 0.005;
    }
}
