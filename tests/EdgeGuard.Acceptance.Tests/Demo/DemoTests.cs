using System.Globalization;
using System.Text.RegularExpressions;
using EdgeGuard.Acceptance.Tests.Guarding;

namespace EdgeGuard.Acceptance.Tests.Demo;

/// <summary>
/// The main job: with the guard in charge every limit is kept; with the guard only watching the same fault drives the
/// element beyond its limit. The reference figures of the fault are those of an independent two-lump model of the same
/// invented heater (element and lining, NTU gas, NASA-9 enthalpy), with 10 % allowed.
/// </summary>
public sealed partial class DemoTests
{
    [Trait("requirement", "DEMO-1")]
    [Trait("requirement", "DEMO-2")]
    [Fact]
    public void With_the_guard_in_charge_every_limit_is_kept()
    {
        DemoOutcome demo = DemoOutcome.Run(GuardRig.Program);

        Assert.True(demo.ExitCode == 0, demo.Text);
        Assert.Contains("Every limit was kept.", demo.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("BROKEN", demo.Text, StringComparison.Ordinal);
        string[] story =
        [
            "come up tripped", "Reset is not start", "flow proved", "permit granted and on disk before any power", "waits for the shared supply",
            "Both units are steady", "the blower stops", "trips: FLOW", "power proved off", "a reset is tried while the cause is there", "holding again",
            "the element thermocouple is shorted", "trips: NORS", "the thermocouple is replaced", "holding again",
            "phase L3 is lost", "trips: PHAS", "the fuse is replaced", "holding again",
            "the enable input sticks at 1", "the enable reads back 1 although 0 was written", "power proved off", "holding again",
            "Powered cool-down", "the blower runs until the element is below", "Both units are cool and stand by",
        ];
        int from = 0;
        foreach (string line in story)
        {
            int at = demo.Text.IndexOf(line, from, StringComparison.Ordinal);
            Assert.True(at >= 0, $"\"{line}\" is missing or out of order in:\n{demo.Text}");
            from = at;
        }

        Assert.Matches(@"kept\s+A-1: element thermocouple shorted, to power off: \d+ ms", demo.Text);
        Assert.Matches(@"kept\s+N-1: supply phase lost, to power off: \d+ ms", demo.Text);
        Assert.Matches(@"kept\s+N-1: stop with a stuck enable, to power off: \d+ ms", demo.Text);
        Assert.Contains("supplements hardwired safety", demo.Report, StringComparison.Ordinal);
        Assert.Contains("<svg", demo.Report, StringComparison.Ordinal);
        Assert.DoesNotMatch("(src|href)=\"http", demo.Report);
    }

    [Trait("requirement", "DEMO-1")]
    [Fact]
    public void Only_observed_the_same_fault_drives_the_element_beyond_its_limit()
    {
        DemoOutcome demo = DemoOutcome.Run(GuardRig.Program, "--mode", "observe");

        Assert.True(demo.ExitCode == 1, demo.Text);
        Assert.Contains("A LIMIT WAS BROKEN.", demo.Text, StringComparison.Ordinal);
        Assert.Matches(@"BROKEN\s+highest element temperature: 1\d\d\d", demo.Text);
        Assert.Contains("the guard only observes: FLOW demands a trip", demo.Text, StringComparison.Ordinal);
        Assert.InRange(Figure(demo, PassesLimit()), 41 * 0.9, 41 * 1.1);
        Assert.InRange(Figure(demo, AfterAMinute()), 1061 * 0.9, 1061 * 1.1);
        Assert.InRange(Figure(demo, OutletAfterAMinute()), 430 * 0.9, 430 * 1.1);
    }

    private static double Figure(DemoOutcome demo, Regex regex)
    {
        Match match = regex.Match(demo.Text);
        Assert.True(match.Success, $"{regex} not found in:\n{demo.Text}");
        return double.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture);
    }

    [GeneratedRegex(@"the element passes 850 °C ([0-9.]+) s after")]
    private static partial Regex PassesLimit();

    [GeneratedRegex(@"60 s after the blower stopped the element is at ([0-9]+) °C")]
    private static partial Regex AfterAMinute();

    [GeneratedRegex(@"60 s after .* the outlet shows ([0-9]+) °C")]
    private static partial Regex OutletAfterAMinute();
}
