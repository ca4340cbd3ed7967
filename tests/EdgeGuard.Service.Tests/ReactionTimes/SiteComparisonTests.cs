using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.ReactionTimes;
using EdgeGuard.Service.Tests.Configuration;

namespace EdgeGuard.Service.Tests.ReactionTimes;

public sealed class SiteComparisonTests
{
    [Trait("requirement", "COMP-1")]
    [Fact]
    public void A_changed_delay_is_told_with_its_chain() =>
        AssertWords(
            "\"afterCoolingKgPerHour\": 45, \"delayMs\": 500", "\"afterCoolingKgPerHour\": 45, \"delayMs\": 2000",
            "trip delay of FLOW on N-1: 0.5 s → 2 s; chain 2.36 s → 3.86 s, by the watchdog 4.16 s → 5.66 s");

    [Fact]
    public void A_changed_trip_limit_is_told_with_the_time_there_is() =>
        AssertWords(
            "\"elem\": { \"alarmC\": 800, \"tripC\": 850,", "\"elem\": { \"alarmC\": 800, \"tripC\": 900,",
            "trip limit of ELEM on N-1: 850 °C → 900 °C; process safety time 14.83 s → 11.86 s",
            "FLOW on N-1: process safety time 14.83 s → 11.86 s",
            "RESD on N-1: process safety time 29.66 s → 23.73 s");

    [Fact]
    public void A_setting_without_a_chain_stands_alone() =>
        AssertWords("\"supplyLimitKw\": 45", "\"supplyLimitKw\": 50", "supply limit: 45 kW → 50 kW");

    [Fact]
    public void Wiring_is_told_by_unit_and_register_and_its_requests_by_line()
    {
        using var changed = new TemporarySite(SiteFolders.PilotHall);
        changed.Replace("cabinet.csv", "element,           elementTemperature, input,   0, ", "element,           elementTemperature, input,   26,");
        changed.Replace("cabinet.csv", "outlet-break,      record,             input,   11,      bit,  ,      6,   ,      ,       ,     ,      ,      ,         r,", "");
        IReadOnlyList<string> words = SiteComparison.Words(Load(SiteFolders.PilotHall), Load(changed.Folder));
        Assert.Contains("ElementTemperature on N-1: read from input 0 (traditional 30001) of unit id 1 on n1 → input 26 (traditional 30027) of unit id 1 on n1", words);
        Assert.DoesNotContain(words, w => w.StartsWith("settings line N-1.signal.", StringComparison.Ordinal));
        Assert.Contains(words, w => w.StartsWith("settings line block.1: ", StringComparison.Ordinal));
    }

    [Fact]
    public void A_changed_order_or_range_is_told_by_its_signal() =>
        AssertMap(
            "0,       f32,  ABCD,  ,    1,     0,      degC, -20,   1372,", "0,       f32,  CDAB,  ,    1,     0,      degC, -20,   1300,",
            "ElementTemperature on N-1: order ABCD → CDAB, range -20 to 1372 → -20 to 1300",
            "ElementTemperature on A-1: order ABCD → CDAB, range -20 to 1372 → -20 to 1300");

    [Fact]
    public void Times_that_follow_the_scan_period_are_told_once_a_unit()
    {
        using var changed = new TemporarySite(SiteFolders.PilotHall);
        changed.Replace("site.json", "\"scanMs\": 100", "\"scanMs\": 200");
        IReadOnlyList<string> words = SiteComparison.Words(Load(SiteFolders.PilotHall), Load(changed.Folder));
        Assert.Equal(2, words.Count(w => w.Contains("stale after 0.3 s → 0.6 s", StringComparison.Ordinal)));
        Assert.DoesNotContain(words, w => w.StartsWith("settings line", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("\"lossMaxKwPerK\": 0.002", "\"lossMaxKwPerK\": 0.002, \"blockMs\": 30000", "settings line A-1.bala: ")]
    [InlineData("\"model\": {", "\"model\": { \"steadyMinutes\": 20,", "settings line A-1.sens.model: ")]
    public void A_block_of_another_length_is_told_by_its_line(string old, string @new, string words)
    {
        using var changed = new TemporarySite(SiteFolders.PilotHall);
        changed.Replace("site.json", old, @new);
        Assert.Single(SiteComparison.Words(Load(SiteFolders.PilotHall), Load(changed.Folder)), w => w.StartsWith(words, StringComparison.Ordinal));
    }

    [Fact]
    public void A_unit_that_comes_or_goes_is_told()
    {
        using var changed = new TemporarySite(SiteFolders.PilotHall);
        changed.Replace("site.json", "\"name\": \"A-1\"", "\"name\": \"A-2\"");
        IReadOnlyList<string> words = SiteComparison.Words(Load(SiteFolders.PilotHall), Load(changed.Folder));
        Assert.Equal(["unit A-1: no longer there", "unit A-2: new"], words);
    }

    // The rated power has words; a second change in the same line that had none would still be told by the line.
    [Fact]
    public void What_has_no_words_is_told_by_its_line()
    {
        SiteConfiguration before = Load(SiteFolders.PilotHall);
        SiteConfiguration after = before with { SettingsText = before.SettingsText.Replace("unit.1.times = 2000 |", "unit.1.times = 2000 | 7 |", StringComparison.Ordinal), SettingsDigest = "other" };
        string line = Assert.Single(SiteComparison.Words(before, after));
        Assert.StartsWith("settings line A-1.times: 2000 | 1000 | 500 → 2000 | 7 | 1000 | 500", line, StringComparison.Ordinal);
    }

    [Fact]
    public void Equal_sites_have_no_difference() =>
        Assert.Empty(SiteComparison.Words(Load(SiteFolders.PilotHall), Load(SiteFolders.PilotHall)));

    private static void AssertMap(string old, string with, params string[] expected)
    {
        using var changed = new TemporarySite(SiteFolders.PilotHall);
        changed.Replace("cabinet.csv", old, with);
        Assert.Equal(expected, SiteComparison.Words(Load(SiteFolders.PilotHall), Load(changed.Folder)));
    }

    private static void AssertWords(string old, string with, params string[] expected)
    {
        using var changed = new TemporarySite(SiteFolders.PilotHall);
        changed.Replace("site.json", old, with);
        Assert.Equal(expected, SiteComparison.Words(Load(SiteFolders.PilotHall), Load(changed.Folder)));
    }

    private static SiteConfiguration Load(string folder)
    {
        SiteLoadResult result = SiteLoader.Load(folder);
        Assert.Equal(string.Empty, string.Join('\n', result.Faults));
        return result.Site!;
    }
}
