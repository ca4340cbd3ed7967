using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.Tests.Configuration;

/// <summary>Times are in ms; one that was taken for seconds is warned of, and a site that means what it says gives no warning.</summary>
public sealed class TimePlausibilityTests
{
    private static readonly SiteLoadOptions Options = new() { Today = new DateOnly(2026, 6, 1) };

    [Theory]
    [InlineData("\"delayMs\": 500, \"preFlowMs\": 30000,", "\"delayMs\": 2, \"preFlowMs\": 30000,", "site.json:36:104: \"delayMs\" is shorter than can be meant: times are counted in scans, so it is one scan; found 2 ms; expected 0 for none, or at least 100 ms; try 2000, if seconds were meant: the key takes ms")]
    [InlineData("\"preFlowMs\": 30000, \"hotPreFlowMs\": 5000", "\"preFlowMs\": 30, \"hotPreFlowMs\": 0", "\"preFlowMs\" is shorter than can be meant: no blower proves its flow in it; found 30 ms; expected 0 for none, or at least 1000 ms; try 30000, if")]
    [InlineData("\"hotPreFlowMs\": 5000", "\"hotPreFlowMs\": 5", "\"hotPreFlowMs\" is shorter")]
    [InlineData("\"destructionC\": 1100", "\"destructionC\": 1100, \"delayMs\": 99", "\"delayMs\" is shorter")]
    [InlineData("\"tripC\": 720", "\"tripC\": 720, \"delayMs\": 1", "\"delayMs\" is shorter")]
    [InlineData("\"firingCycleMs\": 500", "\"firingCycleMs\": 500, \"blankingMs\": 1", "\"blankingMs\" is shorter")]
    [InlineData("\"connection\": \"star\"", "\"connection\": \"star\", \"mildDelayMs\": 10", "\"mildDelayMs\" is shorter")]
    [InlineData("\"connection\": \"star\"", "\"connection\": \"star\", \"hardDelayMs\": 10", "\"hardDelayMs\" is shorter")]
    [InlineData("\"leakageAlarmMilliampere\": 20", "\"leakageAlarmMilliampere\": 20, \"delayMs\": 5", "\"delayMs\" is shorter")]
    [InlineData("\"elementLagMs\": 3000", "\"elementLagMs\": 3", "\"elementLagMs\" is shorter than can be meant: no such sensor is as fast, and the reaction time is computed from it; found 3 ms; expected 0 for none, or at least 100 ms; try 3000, if seconds were meant")]
    [InlineData("\"outletLagMs\": 5000", "\"outletLagMs\": 5", "\"outletLagMs\" is shorter")]
    [InlineData("\"meterDampingMs\": 800", "\"meterDampingMs\": 1", "\"meterDampingMs\" is shorter")]
    [InlineData("\"contactorMs\": 100", "\"contactorMs\": 1", "\"contactorMs\" is shorter")]
    [InlineData("\"cool\": {", "\"sens\": { \"frozenMs\": 600 }, \"cool\": {", "\"frozenMs\" is shorter than can be meant: every steady reading would be a frozen sensor; found 600 ms; expected 0 for none, or at least 1000 ms; try 600000, if")]
    [InlineData("\"cool\": {", "\"sens\": { \"delayMs\": 2 }, \"cool\": {", "\"delayMs\" is shorter")]
    [InlineData("\"cool\": {", "\"voting\": { \"deviationDelayMs\": 10 }, \"cool\": {", "\"deviationDelayMs\" is shorter")]
    [InlineData("\"unitId\": 1, ", "\"unitId\": 1, \"answerDelayMs\": 0.02, ", "\"answerDelayMs\" is shorter than can be meant: no device answers within it; found 0.02 ms; expected 0 for none, or at least 0.1 ms; try 20, if")]
    public void A_time_that_nobody_can_mean_is_warned_of_with_its_place(string stated, string written, string words)
    {
        SiteConfiguration site = Load(stated, written);
        Assert.Contains(words, Assert.Single(site.Warnings).ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"delayMs\": 500, \"preFlowMs\": 30000,", "\"delayMs\": 0, \"preFlowMs\": 1000,", "\"hotPreFlowMs\": 5000", "\"hotPreFlowMs\": 100")] // none, and one scan
    [InlineData("\"delayMs\": 500, \"preFlowMs\": 30000,", "\"delayMs\": 100, \"preFlowMs\": 0,", "\"hotPreFlowMs\": 5000", "\"hotPreFlowMs\": 0")]
    [InlineData("\"elementLagMs\": 3000", "\"elementLagMs\": 10, \"elementSensor\": \"onWire\"", "\"meterDampingMs\": 800", "\"meterDampingMs\": 10")]
    [InlineData("\"elementLagMs\": 3000", "\"elementLagMs\": 100", "\"contactorMs\": 100", "\"contactorMs\": 5")]
    [InlineData("\"scanMs\": 100,", "\"scanMs\": 50,", "\"destructionC\": 1100", "\"destructionC\": 1100, \"delayMs\": 50")]
    public void A_time_that_can_be_meant_gives_no_warning(string first, string firstWritten, string second, string secondWritten)
    {
        SiteConfiguration site = Load(first, firstWritten, second, secondWritten);
        Assert.Equal(string.Empty, string.Join('\n', site.Warnings));
    }

    [Fact]
    public void The_example_sites_give_no_warning()
    {
        foreach (string folder in (string[])[SiteFolders.PilotHall, SiteFolders.Minimal])
        {
            Assert.Equal(string.Empty, string.Join('\n', SiteLoader.Load(folder, Options).Site!.Warnings));
        }
    }

    /// <summary>Outside the range of its key it is a fault, and the nearest value in range would be the wrong advice.</summary>
    [Theory]
    [InlineData("\"watchdogMs\": 2000,", "\"watchdogMs\": 2,", "try 2000, if seconds were meant: the key takes ms")]
    [InlineData("\"cool\": {", "\"nors\": { \"delayMs\": 20 }, \"cool\": {", "try 20000, if seconds were meant: the key takes ms")]
    [InlineData("\"cool\": {", "\"cool\": { \"windowMs\": 60, ", "try 60000, if seconds were meant: the key takes ms")]
    [InlineData("\"scanMs\": 100,", "\"scanMs\": 5,", "try 50")] // 5 s is no scan period either
    public void A_time_below_its_range_is_not_lifted_to_the_smallest_one(string stated, string written, string words)
    {
        using TemporarySite site = Write(stated, written);
        Assert.Contains(SiteLoader.Load(site.Folder, Options).Faults, f => f.ToString().EndsWith(words, StringComparison.Ordinal));
    }

    private static SiteConfiguration Load(params string[] changes)
    {
        using TemporarySite site = Write(changes);
        SiteLoadResult result = SiteLoader.Load(site.Folder, Options);
        Assert.Equal(string.Empty, string.Join('\n', result.Faults));
        return result.Site!;
    }

    /// <summary>The pilot hall with the first place of each text changed, which is that of N-1.</summary>
    private static TemporarySite Write(params string[] changes)
    {
        var site = new TemporarySite(SiteFolders.PilotHall);
        string text = site.Read("site.json");
        for (int i = 0; i < changes.Length; i += 2)
        {
            int at = text.IndexOf(changes[i], StringComparison.Ordinal);
            Assert.True(at > 0, changes[i]);
            text = text[..at] + changes[i + 1] + text[(at + changes[i].Length)..];
        }

        site.Write("site.json", System.Text.Encoding.UTF8.GetBytes(text));
        return site;
    }
}
