using System.Text;
using EdgeGuard.Acceptance.Tests.Rigs;

namespace EdgeGuard.Acceptance.Tests.Processes;

/// <summary>The journal of a finished run, damaged by hand, before `edgeguard journal verify` as a process.</summary>
public sealed class DamagedJournalTests : IClassFixture<FinishedRun>
{
    private readonly FinishedRun _run;

    public DamagedJournalTests(FinishedRun run) => _run = run;

    [Fact]
    public void An_untouched_journal_is_whole()
    {
        CommandLine verified = Verify(static lines => lines);
        Assert.True(verified.ExitCode == ExitCode.Good, verified.Output + verified.Errors);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    [InlineData(-1)]
    public void One_flipped_byte_is_named_by_its_line(int line)
    {
        int number = line > 0 ? line : _run.Lines.Length;
        CommandLine verified = Verify(lines => Flip(lines, number - 1, lines[number - 1].Length / 2));
        Assert.Equal(ExitCode.Found, verified.ExitCode);
        Assert.Contains($"journal-000001.log:{number}: ", verified.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_flipped_hash_of_the_last_line_is_named_too()
    {
        CommandLine verified = Verify(static lines => Flip(lines, lines.Length - 1, lines[^1].Length - 2));
        Assert.Equal(ExitCode.Found, verified.ExitCode);
        Assert.Contains($"journal-000001.log:{_run.Lines.Length}: ", verified.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_last_line_without_its_end_is_a_torn_tail_to_a_head_that_never_saw_it()
    {
        // Power went while one more line was being written: the head still names the line before it.
        byte[] begun = Encoding.UTF8.GetBytes("{\"n\":" + (_run.Lines.Length + 1) + ",\"utc\":\"2026-01-0");
        CommandLine verified = Verify(lines => [.. lines, begun]);
        Assert.Equal(ExitCode.Found, verified.ExitCode);
        Assert.Contains($"journal-000001.log:{_run.Lines.Length + 1}: ", verified.Output, StringComparison.Ordinal);
        Assert.Contains("torn tail", verified.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_last_line_cut_after_it_was_durable_is_told_against_the_head()
    {
        CommandLine verified = Verify(static lines => [.. lines[..^1], lines[^1][..(lines[^1].Length / 2)]]);
        Assert.Equal(ExitCode.Found, verified.ExitCode);
        Assert.Contains($"journal-000001.log:{_run.Lines.Length}: ", verified.Output, StringComparison.Ordinal);
        Assert.Contains($"the journal ends at {_run.Lines.Length - 1}, head says {_run.Lines.Length}", verified.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Three_whole_lines_removed_from_the_end_are_told_against_the_head()
    {
        CommandLine verified = Verify(static lines => lines[..^3]);
        Assert.Equal(ExitCode.Found, verified.ExitCode);
        Assert.Contains($"the journal ends at {_run.Lines.Length - 3}, head says {_run.Lines.Length}", verified.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void The_journal_of_a_site_is_the_one_in_the_data_folder_it_states_and_not_an_older_one()
    {
        using var folder = new TestFolder();
        string site = TestSite.N1(15020).With("\"dataFolder\": \"data\"", "\"dataFolder\": \"elsewhere\"").Write(folder.File("site"));
        Put(Path.Combine(site, "elsewhere", "journal"), _run.Lines);
        Put(Path.Combine(site, "data", "journal"), _run.Lines[..^3]);
        CommandLine verified = CommandLine.Run("journal", "verify", site);
        Assert.True(verified.ExitCode == ExitCode.Good, verified.Output + verified.Errors);
        Directory.Delete(Path.Combine(site, "elsewhere"), recursive: true);
        Assert.Equal(ExitCode.BadData, CommandLine.Run("journal", "verify", site).ExitCode);
    }

    private static byte[][] Flip(byte[][] lines, int line, int at)
    {
        byte[][] damaged = [.. lines.Select(static l => (byte[])[.. l])];
        damaged[line][at] ^= 1;
        return damaged;
    }

    private CommandLine Verify(Func<byte[][], byte[][]> damage)
    {
        using var folder = new TestFolder();
        Put(folder.Path, damage(_run.Lines));
        return CommandLine.Run("journal", "verify", folder.Path);
    }

    private void Put(string folder, byte[][] lines)
    {
        Directory.CreateDirectory(folder);
        File.WriteAllBytes(Path.Combine(folder, "journal-000001.log"), [.. lines.SelectMany(static l => l)]);
        File.WriteAllBytes(Path.Combine(folder, "head"), _run.Head);
    }
}
