using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.Tests.Configuration;

/// <summary>Units of the map become those of the core, through scale and offset, and never silently.</summary>
public sealed class UnitConversionTests
{
    // Densities at 101.325 kPa from memory of common gas tables (real gas): N2 1.2504 kg/m³ at 0 °C and 1.185 at 15 °C.
    [Theory]
    [InlineData("Nm3/h", 1.2504, 0.001)]
    [InlineData("Sm3/h", 1.185, 0.001)]
    [InlineData("kg/s", 3_600, 1e-9)]
    public void A_flow_becomes_kilograms_per_hour_of_the_gas_of_the_unit(string unit, double kgPerHour, double tolerance)
    {
        using var site = new TemporarySite(SiteFolders.Minimal);
        site.Replace("meter.csv", "kg/h, -1,    300,", $"{unit}, -1,    300,");

        SignalTable flow = Signal(site, SignalRole.GasFlow);

        Assert.InRange(flow.Scale, kgPerHour - tolerance, kgPerHour + tolerance);
        Assert.Equal(300 * flow.Scale, flow.RangeMax, 6);
    }

    [Theory]
    [InlineData("K", 273.15, 0)] // ice point, ITS-90 definition of the Celsius scale
    [InlineData("degF", 212, 100)] // steam point, definition of the Fahrenheit scale
    [InlineData("degF", -40, -40)]
    public void A_temperature_becomes_degrees_celsius(string unit, double raw, double celsius)
    {
        using var site = new TemporarySite(SiteFolders.Minimal);
        site.Replace("cabinet.csv", "degC, -20,   1372,", $"{unit}, -20,   9000,");

        SignalTable element = Signal(site, SignalRole.ElementTemperature);

        Assert.Equal(celsius, (raw * element.Scale) + element.Offset, 9);
    }

    [Fact]
    public void Scale_and_offset_of_the_point_apply_before_the_unit()
    {
        using var site = new TemporarySite(SiteFolders.Minimal);
        site.Replace("cabinet.csv", "ABCD,  ,    1,     0,      kW,   -1,    60, ", "ABCD,  ,    10,    500,    W,    -1,    60000,");

        SignalTable power = Signal(site, SignalRole.Power);

        Assert.Equal((0.01, 0.5, 60), (power.Scale, power.Offset, Math.Round(power.RangeMax, 9)));
    }

    [Fact]
    public void A_written_point_is_converted_too()
    {
        using var site = new TemporarySite(SiteFolders.Minimal);
        site.Replace("cabinet.csv", "degC, 0,     1200,", "K,    273.15, 1473.15,");

        SiteConfiguration loaded = SiteLoader.Load(site.Folder).Site!;
        CommandPoint setpoint = loaded.Command(0, CommandRole.Setpoint)!;

        Assert.Equal(923.15, (650 - setpoint.Offset) / setpoint.Scale, 9);
        Assert.Equal(1_200, setpoint.Max, 9);
    }

    private static SignalTable Signal(TemporarySite site, SignalRole role)
    {
        SiteLoadResult result = SiteLoader.Load(site.Folder);
        Assert.Equal(string.Empty, string.Join('\n', result.Faults));
        return result.Site!.Table.Units[0].Signals.Single(s => s.Role == role);
    }
}
