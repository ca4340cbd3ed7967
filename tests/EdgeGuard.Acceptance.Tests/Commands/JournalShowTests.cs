using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Commands;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Acceptance.Tests.Commands;

/// <summary>`journal show` with filters: what cannot be meant is refused, since no answer would read as "nothing happened".</summary>
public sealed class JournalShowTests : IDisposable
{
    // 2026-01-31T12:00:00Z, from the calendar: 20484 days of 86400 s and half a day.
    private const long NoonMs = ((20_484L * 86_400) + 43_200) * 1_000;

    private readonly TestFolder _folder = new();
    private readonly StringWriter _output = new();
    private readonly StringWriter _errors = new();

    /// <summary>Five lines: first-run and run-started of the site at noon, then three of units a minute apart.</summary>
    public JournalShowTests()
    {
        using var storage = new FileJournalStorage(_folder.Path);
        using var writer = new JournalWriter(storage, new JournalRun { Id = "test", Version = "1", UtcNowMs = static () => NoonMs });
        writer.Open();
        string[] units = ["N-1", "A-1", "N-1"];
        for (int i = 0; i < units.Length; i++)
        {
            writer.Append(new JournalEntry { Id = (int)ShellEventId.Note, UtcUnixMs = NoonMs + ((i + 1) * 60_000), Unit = units[i], Text = $"word {i}" });
        }

        writer.CommitLines();
        writer.CommitHead();
    }

    public void Dispose()
    {
        _folder.Dispose();
        _output.Dispose();
        _errors.Dispose();
    }

    [Fact]
    public void A_unit_the_journal_does_not_know_is_refused_with_those_it_knows()
    {
        Assert.Equal((ExitCode.Usage, 0), Show(new JournalFilter { Unit = "X-9" }));
        Assert.Equal("edgeguard: --unit: found \"X-9\"; expected one of A-1, N-1; try a name as it stands in the site file\n", Errors);
    }

    [Fact]
    public void A_unit_of_the_site_without_an_entry_is_told_as_that()
    {
        Assert.Equal((ExitCode.Good, 0), Show(new JournalFilter { Unit = "B-1", SiteUnits = ["B-1"] }));
        Assert.Equal("edgeguard: no entry fits; the journal ends at line 5\n", Errors);
    }

    [Fact]
    public void An_unknown_event_is_refused_and_a_known_one_without_an_entry_is_told_as_that()
    {
        Assert.Equal((ExitCode.Usage, 0), Show(new JournalFilter { Event = "tripp" }));
        Assert.Equal("edgeguard: --event: found \"tripp\"; expected a name of docs/reference/event-ids.csv; try one that stands in this journal: first-run, note, run-started\n", Errors);
        Assert.Equal((ExitCode.Good, 0), Show(new JournalFilter { Event = "trip" }));
        Assert.Equal("edgeguard: no entry fits; the journal ends at line 5\n", Errors);
    }

    [Theory]
    [InlineData("2026-02-01", "2026-01-31", "--since, --until: found 2026-02-01 to 2026-01-31; expected --since before --until, both UTC; try to exchange the two")]
    [InlineData("2026-01-31", "2026-01-31", "--since, --until: found 2026-01-31 to 2026-01-31;")]
    [InlineData("31.1.2026", null, "--since: found \"31.1.2026\"; expected a time in UTC as the journal prints it; try --since 2026-01-31 or")]
    [InlineData(null, "noon", "--until: found \"noon\";")]
    public void Times_that_cannot_be_meant_are_refused(string? since, string? until, string words)
    {
        Assert.Equal((ExitCode.Usage, 0), Show(new JournalFilter { Since = since, Until = until }));
        Assert.StartsWith("edgeguard: " + words, Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void A_line_number_below_the_first_is_refused_and_one_beyond_the_end_told()
    {
        Assert.Equal((ExitCode.Usage, 0), Show(new JournalFilter { From = 0 }));
        Assert.Equal("edgeguard: --from: found 0; expected a line number from 1 on; try --from 1\n", Errors);
        Assert.Equal((ExitCode.Good, 0), Show(new JournalFilter { From = 6 }));
        Assert.Equal("edgeguard: no entry fits; the journal ends at line 5\n", Errors);
    }

    [Theory]
    [InlineData(null, null, null, null, null, 5)]
    [InlineData("N-1", null, null, null, null, 2)]
    [InlineData(null, "note", null, null, null, 3)]
    [InlineData(null, null, 4L, null, null, 2)]
    [InlineData(null, null, null, "2026-01-31T12:02:00Z", null, 2)] // from it on
    [InlineData(null, null, null, null, "2026-01-31T12:02", 3)] // before it
    [InlineData(null, null, null, "2026-01-31", "2026-02-01", 5)]
    [InlineData("N-1", "note", 1L, "2026-01-31T12:01:30", null, 1)]
    public void Filters_let_through_what_they_say(string? unit, string? name, long? from, string? since, string? until, int lines)
    {
        Assert.Equal((ExitCode.Good, lines), Show(new JournalFilter { Unit = unit, Event = name, From = from, Since = since, Until = until }));
        Assert.Equal(string.Empty, Errors);
    }

    [Fact]
    public void The_command_itself_ends_with_the_code_of_a_wrong_command_line()
    {
        CommandLine shown = CommandLine.Run("journal", "show", _folder.Path, "--unit", "X-9");
        Assert.Equal((ExitCode.Usage, string.Empty), (shown.ExitCode, shown.Output));
        Assert.Contains("expected one of A-1, N-1", shown.Errors, StringComparison.Ordinal);
    }

    private string Errors
    {
        get
        {
            string text = _errors.ToString().ReplaceLineEndings("\n");
            _errors.GetStringBuilder().Clear();
            return text;
        }
    }

    private (int Code, int Lines) Show(JournalFilter filter)
    {
        _output.GetStringBuilder().Clear();
        using var storage = new FileJournalStorage(_folder.Path);
        int code = JournalCommand.ShowLines(storage, filter, json: false, _output, _errors);
        return (code, _output.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
    }
}
