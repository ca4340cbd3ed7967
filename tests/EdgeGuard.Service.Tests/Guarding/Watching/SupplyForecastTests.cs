using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Guarding.Watching;
using EdgeGuard.Service.Tests.Configuration;

namespace EdgeGuard.Service.Tests.Guarding.Watching;

/// <summary>
/// When the hall is hot, by hand from the example site: N-1 is led to 650 °C at 60 K/min and holds 34.5 kW for its ramp, A-1
/// to 220 °C at 30 K/min and 12 kW; both together do not fit into 45 kW.
/// </summary>
public sealed class SupplyForecastTests
{
    private static readonly SiteTable Site = SiteLoader.Load(SiteFolders.PilotHall).Site!.Table;

    [Trait("requirement", "DMND-2")]
    [Fact]
    public void A_waiting_unit_begins_when_the_ramp_before_it_ends()
    {
        // N-1: 350 K at 60 K/min, 350 s. A-1 from 20 °C: 200 K at 30 K/min, 400 s more.
        double[] hot = SupplyForecast.SecondsUntilHot(Site, [Ramping(300), Waiting(1, 20)]);
        Assert.Equal([350.0, 750.0], hot);
        Assert.Equal(750, SupplyForecast.All(hot));
    }

    [Trait("requirement", "DMND-2")]
    [Fact]
    public void What_fits_beside_the_others_begins_now()
    {
        // N-1 holds with 20 kW: 22 are reserved, and 12 fit into the rest.
        double[] hot = SupplyForecast.SecondsUntilHot(Site, [Holding(20), Waiting(1, 20)]);
        Assert.True(double.IsNaN(hot[0]), "it is there");
        Assert.Equal(400, hot[1]);
        // With 31 kW 34.1 are reserved, and nothing on its way makes room: nobody can say when.
        hot = SupplyForecast.SecondsUntilHot(Site, [Holding(31), Waiting(1, 20)]);
        Assert.Equal(double.PositiveInfinity, hot[1]);
        Assert.Null(SupplyForecast.All(hot));
    }

    [Trait("requirement", "DMND-2")]
    [Fact]
    public void Waiting_units_go_in_their_order_and_none_overtakes()
    {
        SiteTable three = Site with { Units = [Site.Units[0], Site.Units[0], Site.Units[1]] };
        // The first N-1 ends after 350 s, the second takes 630 s then, and A-1 the 400 s after it.
        Assert.Equal([350.0, 980.0, 1_380.0], SupplyForecast.SecondsUntilHot(three, [Ramping(300), Waiting(1, 20), Waiting(2, 20)]));
        // The other order: A-1 does not fit beside the first either, and begins with the second when that has ended.
        Assert.Equal([350.0, 1_380.0, 750.0], SupplyForecast.SecondsUntilHot(three, [Ramping(300), Waiting(2, 20), Waiting(1, 20)]));
    }

    [Fact]
    public void Nobody_on_the_way_gives_no_time()
    {
        double[] hot = SupplyForecast.SecondsUntilHot(Site, [Holding(20), new UnitSnapshot { State = UnitState.Tripped, PowerProvedOff = true }]);
        Assert.Null(SupplyForecast.All(hot));
    }

    [Fact]
    public void A_unit_of_unknown_power_holds_its_rated_power()
    {
        // A tripped N-1 that cannot be read: 36 of 45 kW, and 12 do not fit.
        double[] hot = SupplyForecast.SecondsUntilHot(Site, [new UnitSnapshot { State = UnitState.Tripped }, Waiting(1, 20)]);
        Assert.Equal(double.PositiveInfinity, hot[1]);
    }

    private static UnitSnapshot Ramping(double ledC) => new() { State = UnitState.Heating, Permit = true, LedSetpointC = ledC };

    private static UnitSnapshot Holding(double kw) => With(new UnitSnapshot { State = UnitState.Holding, Permit = true }, SignalRole.Power, kw);

    private static UnitSnapshot Waiting(int place, double outletC) =>
        With(new UnitSnapshot { State = UnitState.PreFlow, SupplyPlace = place, RampHeld = true, PowerProvedOff = true }, SignalRole.OutletTemperature, outletC);

    private static UnitSnapshot With(UnitSnapshot unit, SignalRole role, double value)
    {
        unit.Signals[(int)role] = new SignalValue { Value = value, Status = StatusCode.Good, Known = true };
        return unit;
    }
}
