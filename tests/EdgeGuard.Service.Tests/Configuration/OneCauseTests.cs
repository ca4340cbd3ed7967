using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.Tests.Configuration;

/// <summary>One value that is wrong gives one fault, at that value or at the rung it breaks: six faults look like six mistakes.</summary>
public sealed class OneCauseTests
{
    private static readonly SiteLoadOptions Options = new() { Today = new DateOnly(2026, 6, 1) };

    // Each is one figure of N-1 in the example, with a digit too many or too few, doubled or halved.
    [Trait("requirement", "CONF-1")]
    [Theory]
    [InlineData("\"scanMs\": 100,", "\"scanMs\": 1000,", "the scan period is too long for 4 times of the units; found 1000 ms; for one, the communication limit is too short for the scan: 1000 ms; expected at most 330 ms")]
    [InlineData("\"setpointC\": 650,", "\"setpointC\": 1300,", "the setpoint lies below neither the outlet nor the element alarm; found setpoint 1300 °C, outlet alarm 680 °C, element alarm 800 °C; expected a setpoint below 680 °C")]
    [InlineData("\"setpointC\": 650,", "\"setpointC\": 700,", "the setpoint does not lie below the outlet alarm; found setpoint 700 °C, alarm 680 °C")]
    [InlineData("\"tripC\": 850,", "\"tripC\": 1700,", "the element trip does not lie below the temperature of destruction; found trip 1700 °C, destruction 1100 °C")]
    [InlineData("\"tripC\": 850,", "\"tripC\": 85,", "the element alarm does not lie below the trip; found alarm 800 °C, trip 85 °C")]
    [InlineData("\"destructionC\": 1100", "\"destructionC\": 110", "the element trip does not lie below the temperature of destruction; found trip 850 °C, destruction 110 °C")]
    [InlineData("\"tripC\": 720", "\"tripC\": 72", "the outlet alarm does not lie below the trip; found alarm 680 °C, trip 72 °C")]
    [InlineData("\"ratedPowerKw\": 36,", "\"ratedPowerKw\": 360,", "FLOW cannot be in time for dry fire; found a chain of ")]
    [InlineData("\"massKg\": 3.8", "\"massKg\": 0.38", "; nor can ELEM for runaway with gas, 6 s of 1.48 s; nor can RESD for residual power, 3.7 s of 2.97 s; expected less than the process safety time of 1.48 s")]
    [InlineData("\"massKg\": 3.8", "\"massKg\": 0.38", "; try to look first whether the mass or wire, \"heatCapacityKJPerKgK\", \"ratedPowerKw\", \"tripC\" and \"destructionC\" are those of this element; then less ")]
    [InlineData("\"watchdogMs\": 2000,", "\"watchdogMs\": 20000,", "; try less watchdog, or an element that takes longer to its destruction")]
    [InlineData("\"watchdogMs\": 2000,", "\"watchdogMs\": 200,", "the watchdog is too fast for the scan; found 200 ms")]
    [InlineData("\"cool\": {", "\"comm\": { \"limitMs\": 100 }, \"cool\": {", "the communication limit is too short for the scan; found 100 ms")]
    [InlineData("\"limitKgPerHour\": 70,", "\"limitKgPerHour\": 700,", "the proving flow does not lie above the flow limit; found proving 130 kg/h, limit 700 kg/h")]
    public void One_wrong_value_is_one_fault(string stated, string wrong, string words)
    {
        using var site = new TemporarySite(SiteFolders.PilotHall);
        string text = site.Read("site.json");
        int at = text.IndexOf(stated, StringComparison.Ordinal);
        Assert.True(at > 0, stated);
        site.Write("site.json", System.Text.Encoding.UTF8.GetBytes(text[..at] + wrong + text[(at + stated.Length)..]));

        Assert.Contains(words, Assert.Single(SiteLoader.Load(site.Folder, Options).Faults).ToString(), StringComparison.Ordinal);
    }

    /// <summary>What is left out follows: two mistakes are two faults.</summary>
    [Fact]
    public void Two_mistakes_are_two_faults()
    {
        using var site = new TemporarySite(SiteFolders.PilotHall);
        site.Write("site.json", System.Text.Encoding.UTF8.GetBytes(site.Read("site.json")
            .Replace("\"setpointC\": 220,", "\"setpointC\": 2200,", StringComparison.Ordinal)
            .Replace("\"watchdogMs\": 2000,", "\"watchdogMs\": 150,", StringComparison.Ordinal)
            .Replace("\"tripC\": 850,", "\"tripC\": 1150,", StringComparison.Ordinal)));

        string[] what = [.. SiteLoader.Load(site.Folder, Options).Faults.Select(static f => f.What)];
        Assert.Equal(["the watchdog is too fast for the scan", "the element trip does not lie below the temperature of destruction", "value out of range for \"setpointC\"", "the watchdog is too fast for the scan"], what);
    }

    /// <summary>Times that would be too short for the usual scan period too are mistakes of their own.</summary>
    [Fact]
    public void A_slow_scan_does_not_hide_a_time_that_is_wrong_itself()
    {
        using var site = new TemporarySite(SiteFolders.PilotHall);
        site.Write("site.json", System.Text.Encoding.UTF8.GetBytes(site.Read("site.json")
            .Replace("\"scanMs\": 100,", "\"scanMs\": 1000,", StringComparison.Ordinal)
            .Replace("\"cool\": {", "\"comm\": { \"limitMs\": 200 }, \"cool\": {", StringComparison.Ordinal)));

        string[] what = [.. SiteLoader.Load(site.Folder, Options).Faults.Select(static f => f.What)];
        Assert.Equal(2, what.Count(static w => w == "the communication limit is too short for the scan"));
        Assert.Equal(2, what.Count(static w => w == "the watchdog is too fast for the scan"));
    }
}
