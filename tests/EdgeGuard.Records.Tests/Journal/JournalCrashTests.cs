using CsCheck;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Records.Tests.Journal;

/// <summary>What stands after power loss, at any moment and with any part of the unsynced bytes on the disk.</summary>
public sealed class JournalCrashTests
{
    [Trait("requirement", "JOUR-2")]
    [Fact]
    public void Whatever_was_reported_durable_survives_any_power_loss_and_the_next_run_goes_on_whole() =>
        Gen.Select(Gen.Int[1, 30], Gen.Int[0, 400], Gen.Int[0, 200], Gen.Int[-1, 300]).Sample(
            (batches, kept, failAt, tear) =>
            {
                using var storage = new FaultyStorage();
                int operation = 0;
                storage.Fault = (_, _) => ++operation == failAt ? new IOException("injected") : null;
                long durable = RunUntilFault(storage, batches, tear);

                using FaultyStorage after = storage.PowerLoss(kept);
                JournalReport found = JournalVerifier.Verify(after);
                Assert.True(found.LastNumber >= durable, $"durable {durable}, found {found.LastNumber}");
                Assert.Empty(found.Unstated);
                AssertNextRunIsWhole(after, found);
            },
            iter: 3000);

    [Fact]
    public void A_torn_tail_is_moved_aside_whole_and_an_entry_says_so()
    {
        using var storage = new FaultyStorage();
        using (var writer = new JournalWriter(storage, Sample.Run()))
        {
            writer.Open();
            writer.CommitLines();
            writer.CommitHead();
        }

        byte[] good = storage.Read("journal-000001.log");
        byte[] torn = "{\"n\":3,\"utc\":\"2026-"u8.ToArray();
        storage.Put("journal-000001.log", [.. good, .. torn]);
        storage.Log.Clear();
        using (var writer = new JournalWriter(storage, Sample.Run()))
        {
            writer.Open();
            writer.CommitLines();
            writer.CommitHead();
        }

        Assert.Equal(torn, storage.Read("journal-000001.log.3-1.torn"));
        int named = storage.Log.FindIndex(static l => l.StartsWith("syncfolder", StringComparison.Ordinal));
        Assert.InRange(named, storage.Log.IndexOf("sync journal-000001.log.3-1.torn") + 1, storage.Log.IndexOf("setlength journal-000001.log") - 1);
        Assert.Empty(JournalVerifier.Verify(storage).Findings);
        string text = System.Text.Encoding.UTF8.GetString(storage.Read("journal-000001.log")[good.Length..]);
        Assert.Contains("\"event\":\"unclean-stop-found\"", text.Split('\n')[0], StringComparison.Ordinal);
        Assert.Contains("\"event\":\"torn-tail-moved\",\"detail\":19", text.Split('\n')[1], StringComparison.Ordinal);
    }

    [Fact]
    public void Damaged_history_is_continued_in_a_new_segment_that_states_the_break_once()
    {
        using FaultyStorage storage = Sample.Fifty();
        byte[] bytes = storage.Read("journal-000001.log");
        bytes[500] ^= 1;
        storage.Put("journal-000001.log", bytes);
        Restart(storage);
        Assert.Equal(bytes, storage.Read("journal-000001.log")); // the damaged history is not touched
        string first = System.Text.Encoding.UTF8.GetString(storage.Read("journal-000002.log")).Split('\n')[0];
        Assert.Contains("\"n\":51,", first, StringComparison.Ordinal);
        Assert.Contains("\"event\":\"chain-break\"", first, StringComparison.Ordinal);
        Assert.Contains("journal-000001.log:", first, StringComparison.Ordinal);

        Restart(storage); // stated already: goes on in the same segment
        Assert.DoesNotContain("journal-000003.log", storage.List());
        Assert.Equal([JournalFindingKind.Damage, JournalFindingKind.StatedBreak], JournalVerifier.Verify(storage).Findings.Select(f => f.Kind));
    }

    [Fact]
    public void Lines_removed_from_the_end_are_stated_by_the_next_run_before_the_head_forgets()
    {
        using FaultyStorage storage = Sample.Fifty();
        byte[] bytes = storage.Read("journal-000001.log");
        int cut = bytes.AsSpan(0, bytes.Length - 1).LastIndexOf((byte)'\n') + 1;
        storage.Put("journal-000001.log", bytes[..cut]);
        Restart(storage);
        string first = System.Text.Encoding.UTF8.GetString(storage.Read("journal-000002.log")).Split('\n')[0];
        Assert.Contains("ends at 49, head says 50", first, StringComparison.Ordinal);
        Assert.Contains("\"n\":51,", first, StringComparison.Ordinal);
        Assert.False(JournalVerifier.Verify(storage).IsWhole);
    }

    [Fact]
    public void The_head_moves_only_after_the_lines_are_synced_and_a_new_name_is_synced_in_its_folder()
    {
        using var storage = new FaultyStorage();
        using (var writer = new JournalWriter(storage, Sample.Run(segmentBytes: 2000)))
        {
            writer.Open();
            for (int i = 0; i < 20; i++)
            {
                Sample.Write(writer, 1);
                writer.CommitLines();
                writer.CommitHead();
            }
        }

        bool linesUnsynced = false;
        bool nameUnsynced = false;
        int heads = 0;
        foreach (string step in storage.Log)
        {
            linesUnsynced = step switch
            {
                _ when step.StartsWith("write journal-", StringComparison.Ordinal) => true,
                _ when step.StartsWith("sync journal-", StringComparison.Ordinal) => false,
                _ => linesUnsynced,
            };
            nameUnsynced = step.StartsWith("open journal-", StringComparison.Ordinal) || (nameUnsynced && !step.StartsWith("syncfolder", StringComparison.Ordinal));
            if (string.Equals(step, "write head", StringComparison.Ordinal))
            {
                heads++;
                Assert.False(linesUnsynced, "the head moved before the lines were synced");
                Assert.False(nameUnsynced, "the head moved before the segment's name was synced");
            }
        }

        Assert.Equal(21, heads); // the empty head of a new folder and one per batch
        Assert.Contains("open journal-000003.log", storage.Log);
    }

    [Fact]
    public void A_head_that_fails_is_written_again_with_the_next_commit()
    {
        using var storage = new FaultyStorage();
        using var writer = new JournalWriter(storage, Sample.Run());
        writer.Open();
        writer.CommitLines();
        storage.Fault = (what, name) => string.Equals(name, "head", StringComparison.Ordinal) ? new IOException(what) : null;
        Assert.Throws<IOException>(writer.CommitHead);
        storage.Fault = (_, _) => null;
        writer.CommitLines();
        writer.CommitHead();
        Assert.Equal(2, JournalHead.Parse(storage.Read("head"))!.Number);
    }

    // Returns the number of the last line whose commit returned.
    private static long RunUntilFault(FaultyStorage storage, int batches, int tear)
    {
        long durable = 0;
        using var writer = new JournalWriter(storage, Sample.Run(segmentBytes: 1500));
        try
        {
            writer.Open();
            for (int i = 0; i < batches; i++)
            {
                Sample.Write(writer, 1 + (i % 3));
                if (i == batches - 1)
                {
                    storage.TearNextWriteAt = tear;
                }

                writer.CommitLines();
                durable = writer.LastNumber;
                writer.CommitHead();
            }
        }
        catch (IOException)
        {
            // the injected fault; power goes here
        }

        return durable;
    }

    private static void AssertNextRunIsWhole(FaultyStorage storage, JournalReport before)
    {
        Restart(storage);
        JournalReport report = JournalVerifier.Verify(storage);
        Assert.Empty(report.Findings);
        Assert.True(report.LastNumber > before.LastNumber);
    }

    private static void Restart(FaultyStorage storage)
    {
        using var writer = new JournalWriter(storage, Sample.Run(segmentBytes: JournalNames.SegmentBytes));
        writer.Open();
        writer.CommitLines();
        writer.CommitHead();
    }
}
