using System.Text.Json;
using System.Xml.Linq;
using EdgeGuard.Commands;

namespace EdgeGuard.Acceptance.Tests.Commands;

/// <summary>`init` and `check` as a person or a script meets them.</summary>
public sealed class SiteCommandTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("edgeguard-init-").FullName;
    private readonly StringWriter _output = new();
    private readonly StringWriter _errors = new();

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(100)]
    public void A_fresh_site_passes_check_as_it_is(int units)
    {
        Assert.Equal(ExitCode.Good, InitCommand.Run(Site, units, _output, _errors));
        Assert.Equal(3, _output.ToString().Split('\n').Count(l => l.StartsWith("  edgeguard ", StringComparison.Ordinal)));
        _output.GetStringBuilder().Clear();

        Assert.Equal(ExitCode.Good, CheckCommand.Run(Site, json: false, _output));
        Assert.Contains($"H-{units}: observe;", _output.ToString(), StringComparison.Ordinal);
        Assert.Contains("No faults.", _output.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_fresh_site_moves_to_enforce_as_its_comments_say()
    {
        InitCommand.Run(Site, 1, _output, _errors);
        string file = Path.Combine(Site, "site.json");
        string text = File.ReadAllText(file)
            .Replace("\"mode\": \"observe\"", "\"mode\": \"enforce\"", StringComparison.Ordinal)
            .Replace("// \"proofTest\"", "\"proofTest\"", StringComparison.Ordinal)
            .Replace("// \"supplyLimitKw\"", "\"supplyLimitKw\"", StringComparison.Ordinal);
        File.WriteAllText(file, text);
        _output.GetStringBuilder().Clear();

        Assert.Equal(ExitCode.Good, CheckCommand.Run(Site, json: false, _output));
        Assert.Contains("H-1: enforce;", _output.ToString(), StringComparison.Ordinal);
    }

    /// <summary>What cannot protect is refused by `check` itself, and the case is what its name says. The whole messages are golden beside the sites.</summary>
    [Trait("requirement", "FAST-1")]
    [Theory]
    [InlineData("too-slow-light-element", "\"scanMs\": 1000", "\"lostAnswers\": 3", "FLOW cannot be in time for dry fire; found a chain of ")]
    [InlineData("heartbeat-not-volatile", "\"mode\": \"enforce\"", "\"watchdogMs\"", "the heartbeat would be written to a non-volatile register")]
    [InlineData("class-c-enforce", "\"mode\": \"enforce\"", "\"finalElement\": \"C\"", "class C cannot remove power, so it may not enforce on its own; found no \"hardwiredDevice\"")]
    [InlineData("elem-only-dry-fire", "\"mode\": \"enforce\"", "\"meterDampingMs\": 20000", "ELEM would be the only cover for dry fire; found a sheathed element sensor")]
    public void What_cannot_protect_is_refused(string site, string stated, string andStated, string message)
    {
        string folder = Rigs.Repository.File("tests", "EdgeGuard.Service.Tests", "Configuration", "golden", site);
        string text = File.ReadAllText(Path.Combine(folder, "site.json"));
        Assert.Contains(stated, text, StringComparison.Ordinal);
        Assert.Contains(andStated, text, StringComparison.Ordinal);
        Assert.Equal(ExitCode.Found, CheckCommand.Run(folder, json: false, _output));
        Assert.Contains(message, _output.ToString(), StringComparison.Ordinal);
        Assert.Contains("nothing would be started", _output.ToString(), StringComparison.Ordinal);
    }

    /// <summary>An enforced unit of which nobody knows whether it is in time does not pass silently.</summary>
    [Trait("requirement", "FAST-5")]
    [Fact]
    public void Enforcing_without_reaction_data_is_warned_of_and_what_is_missing_is_named()
    {
        InitCommand.Run(Site, 1, _output, _errors);
        string file = Path.Combine(Site, "site.json");
        string text = File.ReadAllText(file)
            .Replace("\"mode\": \"observe\"", "\"mode\": \"enforce\"", StringComparison.Ordinal)
            .Replace("// \"proofTest\"", "\"proofTest\"", StringComparison.Ordinal);
        Assert.Contains("\"reaction\": {", text, StringComparison.Ordinal);
        File.WriteAllText(file, text);
        _output.GetStringBuilder().Clear();
        Assert.Equal(ExitCode.Good, CheckCommand.Run(Site, json: false, _output));
        Assert.DoesNotContain("WARNING", _output.ToString(), StringComparison.Ordinal);

        File.WriteAllText(file, string.Join('\n', text.Split('\n').Where(static l => !l.Contains("\"reaction\": {", StringComparison.Ordinal))));
        _output.GetStringBuilder().Clear();
        Assert.Equal(ExitCode.Good, CheckCommand.Run(Site, json: false, _output));
        string said = _output.ToString();
        Assert.Contains("  FAST  NOT JUDGED: ", said, StringComparison.Ordinal);
        Assert.Contains("WARNING: enforced without knowing whether any function is in time to protect the element: H-1;", said, StringComparison.Ordinal);
        Assert.Contains("nothing is judged without \"reaction\" with \"massKg\"", said, StringComparison.Ordinal);
        Assert.DoesNotContain("TOO SLOW", said, StringComparison.Ordinal);
    }

    /// <summary>A delay that was meant in seconds passes every range: it is warned of by check, in words and as JSON, and by run in its log.</summary>
    [Fact]
    public void A_time_that_was_taken_for_seconds_is_warned_of_by_check_and_run()
    {
        const string Words = "\"delayMs\" is shorter than can be meant: times are counted in scans, so it is one scan; found 2 ms; expected 0 for none, or at least 100 ms; try 2000, if seconds were meant: the key takes ms";
        using var folder = new Rigs.TestFolder();
        string site = Rigs.TestSite.N1(15020).With("\"delayMs\": 500, \"preFlowMs\"", "\"delayMs\": 2, \"preFlowMs\"").Write(folder.File("site"));
        Assert.Equal(ExitCode.Good, CheckCommand.Run(site, json: false, _output));
        Assert.Matches("(?m)^WARNING: site\\.json:[0-9]+:[0-9]+: ", _output.ToString());
        Assert.Contains(Words, _output.ToString(), StringComparison.Ordinal);

        _output.GetStringBuilder().Clear();
        Assert.Equal(ExitCode.Good, CheckCommand.Run(site, json: true, _output));
        using JsonDocument told = JsonDocument.Parse(_output.ToString());
        Assert.Equal("2 ms", told.RootElement.GetProperty("warnings")[0].GetProperty("found").GetString());

        File.WriteAllText(Path.Combine(folder.Path, "site", "data"), string.Empty); // no data folder can be made: the guard ends at once
        Rigs.CommandLine run = Rigs.CommandLine.Run("run", site);
        Assert.Equal(ExitCode.Unavailable, run.ExitCode);
        Assert.Contains("WRN site.json:", run.Errors, StringComparison.Ordinal);
        Assert.Contains(Words, run.Errors, StringComparison.Ordinal);
    }

    /// <summary>What a newcomer does before anything has run, and what he is told to do next.</summary>
    [Fact]
    public void A_site_on_which_nothing_has_run_yet_is_told_as_that()
    {
        InitCommand.Run(Site, 1, _output, _errors);
        Rigs.CommandLine status = Rigs.CommandLine.Run("status", "--site", Site);
        Assert.Equal(ExitCode.Unavailable, status.ExitCode);
        Assert.EndsWith($"start it with: edgeguard run {Site}\n", status.Errors, StringComparison.Ordinal);
        Rigs.CommandLine journal = Rigs.CommandLine.Run("journal", "show", Site);
        Assert.Equal(ExitCode.BadData, journal.ExitCode);
        Assert.Contains("no journal yet: no guard has run on this site;", journal.Errors, StringComparison.Ordinal);
        Rigs.CommandLine users = Rigs.CommandLine.Run("users", "list", "--site", Site);
        Assert.Equal((ExitCode.Good, string.Empty), (users.ExitCode, users.Output));
        Assert.StartsWith("no users yet; add one with: edgeguard users add", users.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void The_site_file_in_place_of_its_folder_is_told_with_the_folder()
    {
        InitCommand.Run(Site, 1, new StringWriter(), _errors);
        Assert.Equal(ExitCode.Found, CheckCommand.Run(Path.Combine(Site, "site.json"), json: false, _output));
        Assert.Contains($"the site is no folder; found the file \"{Path.Combine(Site, "site.json")}\"; expected the folder that holds site.json; try \"{Site}\"", _output.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Init_leaves_a_folder_with_content_alone()
    {
        Directory.CreateDirectory(Site);
        File.WriteAllText(Path.Combine(Site, "keep.txt"), "mine");

        Assert.Equal(ExitCode.Usage, InitCommand.Run(Site, 1, _output, _errors));
        Assert.Contains("nothing was written; found \"keep.txt\"", _errors.ToString(), StringComparison.Ordinal);
        Assert.Equal(["keep.txt"], Directory.EnumerateFiles(Site).Select(f => Path.GetFileName(f)));
    }

    [Fact]
    public void Check_prints_all_faults_and_returns_one()
    {
        InitCommand.Run(Site, 1, _output, _errors);
        string file = Path.Combine(Site, "site.json");
        File.WriteAllText(file, File.ReadAllText(file).Replace("\"tripC\": 850", "\"tripC\": 600", StringComparison.Ordinal).Replace("\"scanMs\": 100", "\"scanMs\": 1", StringComparison.Ordinal));
        _output.GetStringBuilder().Clear();

        Assert.Equal(ExitCode.Found, CheckCommand.Run(Site, json: false, _output));
        string text = _output.ToString();
        Assert.Contains("value out of range for \"scanMs\"", text, StringComparison.Ordinal);
        Assert.Contains("the element alarm does not lie below the trip", text, StringComparison.Ordinal);
        Assert.Contains("nothing would be started", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Check_writes_json_for_scripts()
    {
        Assert.Equal(ExitCode.Found, CheckCommand.Run(Site, json: true, _output));
        using JsonDocument bad = JsonDocument.Parse(_output.ToString());
        Assert.False(bad.RootElement.GetProperty("good").GetBoolean());
        Assert.Equal("site.json", bad.RootElement.GetProperty("faults")[0].GetProperty("file").GetString());

        InitCommand.Run(Site, 2, new StringWriter(), _errors);
        _output.GetStringBuilder().Clear();
        Assert.Equal(ExitCode.Good, CheckCommand.Run(Site, json: true, _output));
        using JsonDocument good = JsonDocument.Parse(_output.ToString());
        Assert.Equal(6, good.RootElement.GetProperty("requestsPerScan").GetInt32());
        Assert.Equal(2, good.RootElement.GetProperty("units").GetArrayLength());
        JsonElement flow = good.RootElement.GetProperty("units")[0].GetProperty("computedReactionTimes")[0];
        Assert.Equal(("FLOW", "in time"), (flow.GetProperty("function").GetString(), flow.GetProperty("verdict").GetString()));
        Assert.True(flow.GetProperty("worstMs").GetDouble() < flow.GetProperty("processSafetyTimeMs").GetDouble());
    }

    // Three requests of 10, 26 and 5 registers: 121 bytes of 11 bits, and 3 x (12 ms of the device + 1.75 ms) on a line
    // above 19200 baud (2.005 ms at it; Serial Line V1.02, 2.5.1.1), computed by hand: 64.4, 75.9 and 111.3 ms.
    [Theory]
    [InlineData(57_600, ExitCode.Good, "64 % of the scan", null)]
    [InlineData(38_400, ExitCode.Good, "76 % of the scan", "Note: h1: 76 % of the line is taken; one lost answer delays everything behind it.")]
    [InlineData(19_200, ExitCode.Found, "111 ms of bus time a scan", null)]
    public void Check_warns_of_a_line_that_is_nearly_full_and_refuses_one_that_is(int baud, int exitCode, string load, string? note)
    {
        InitCommand.Run(Site, 1, new StringWriter(), _errors);
        string file = Path.Combine(Site, "site.json");
        File.WriteAllText(file, File.ReadAllText(file).Replace("\"port\": 15020,", $"\"port\": 15020, \"baud\": {baud},", StringComparison.Ordinal));
        Assert.Equal(exitCode, CheckCommand.Run(Site, json: false, _output));
        Assert.Contains(load, _output.ToString(), StringComparison.Ordinal);
        Assert.Equal(note is not null, _output.ToString().Contains("of the line is taken", StringComparison.Ordinal));
        Assert.Contains(note ?? load, _output.ToString(), StringComparison.Ordinal);
    }

    [Trait("requirement", "FAST-4")]
    [Fact]
    public void Check_prints_the_cause_and_effect_matrix_in_three_forms_each_with_its_caveat()
    {
        InitCommand.Run(Site, 1, new StringWriter(), _errors);
        foreach (string format in new[] { "text", "csv", "html" })
        {
            _output.GetStringBuilder().Clear();
            Assert.Equal(ExitCode.Good, CheckCommand.Matrix(Site, format, _output));
            string page = _output.ToString();
            Assert.Contains("shares with control", page, StringComparison.Ordinal);
            Assert.Contains("Computed from entered data, not a validation", page, StringComparison.Ordinal);
            Assert.Contains("H-1", page, StringComparison.Ordinal);
        }

        XDocument.Parse(_output.ToString().Replace("<!DOCTYPE html>", string.Empty, StringComparison.Ordinal));
    }

    [Fact]
    public void Check_compares_two_sites_in_words()
    {
        InitCommand.Run(Site, 1, new StringWriter(), _errors);
        string other = Path.Combine(_folder, "other");
        InitCommand.Run(other, 1, new StringWriter(), _errors);
        Assert.Equal(ExitCode.Good, CheckCommand.Compare(Site, other, _output));
        Assert.Contains("No difference", _output.ToString(), StringComparison.Ordinal);

        string file = Path.Combine(other, "site.json");
        File.WriteAllText(file, File.ReadAllText(file).Replace("\"provingKgPerHour\": 130, \"delayMs\": 500", "\"provingKgPerHour\": 130, \"delayMs\": 2000", StringComparison.Ordinal));
        _output.GetStringBuilder().Clear();
        Assert.Equal(ExitCode.Found, CheckCommand.Compare(Site, other, _output));
        Assert.StartsWith("trip delay of FLOW on H-1: 0.5 s → 2 s; chain ", _output.ToString(), StringComparison.Ordinal);
        Assert.Contains("1 difference. Computed from entered data, not a validation", _output.ToString(), StringComparison.Ordinal);

        File.WriteAllText(file, "{");
        _output.GetStringBuilder().Clear();
        Assert.Equal(ExitCode.Found, CheckCommand.Compare(Site, other, _output));
        Assert.Contains("nothing would be started", _output.ToString(), StringComparison.Ordinal);
        Assert.Equal(ExitCode.Found, CheckCommand.Matrix(other, "text", _output));
    }

    public void Dispose()
    {
        _output.Dispose();
        _errors.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    private string Site => Path.Combine(_folder, "site");
}
