using EdgeGuard.Records.Journal;

namespace EdgeGuard.Records.Tests.Journal;

/// <summary>The real disk: beside a running writer, against a second writer, in a folder that cannot be written.</summary>
public sealed class FileJournalStorageTests
{
    private static readonly TimeSpan Long = TimeSpan.FromSeconds(60);

    [Fact]
    public void A_reader_beside_a_running_writer_finds_it_whole_and_a_second_writer_is_refused()
    {
        using var folder = new TempFolder();
        using var storage = new FileJournalStorage(folder.File("journal"));
        using var thread = new JournalThread(storage, Sample.Options() with { StallMs = 60_000 }); // a slow disk must add no line
        thread.Start();
        Assert.True(thread.TryEnqueue(Sample.Trip(1)));
        Assert.True(thread.DrainAndWait(Long));
        using var reader = new FileJournalStorage(folder.File("journal"));
        JournalReport report = JournalVerifier.Verify(reader);
        Assert.Empty(report.Findings);
        Assert.Equal(3, report.LastNumber);
        Assert.Equal(["first-run", "run-started", "trip"], JournalReader.Read(reader).Select(l => l.Record!["event"]));

        using var other = new FileJournalStorage(folder.File("journal"));
        using var second = new JournalThread(other, Sample.Options());
        second.Start();
        Assert.True(SpinWait.SpinUntil(() => second.Failure.Length > 0, Long));
        Assert.Contains("another guard may be running", second.Failure, StringComparison.Ordinal);
        Assert.Equal(EdgeGuard.Core.Signals.JournalHealth.Failing, second.Health);
    }

    [Fact]
    public void A_journal_is_found_from_the_site_the_data_and_its_own_folder()
    {
        using var folder = new TempFolder();
        Assert.Null(JournalReader.Find(folder.Path));
        string journal = Path.Combine(folder.Path, "data", "journal");
        using (var storage = new FileJournalStorage(journal))
        using (var writer = new JournalWriter(storage, Sample.Run()))
        {
            writer.Open();
            writer.CommitLines();
        }

        Assert.Equal(journal, JournalReader.Find(folder.Path));
        Assert.Equal(journal, JournalReader.Find(Path.Combine(folder.Path, "data")));
        Assert.Equal(journal, JournalReader.Find(journal));
    }

    [Fact]
    public void A_folder_that_cannot_be_made_shows_as_failing_and_never_throws_at_the_scan()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.File("taken"), string.Empty);
        using var storage = new FileJournalStorage(folder.File("taken"));
        using var thread = new JournalThread(storage, Sample.Options());
        thread.Start();
        Assert.True(SpinWait.SpinUntil(() => thread.Failure.Length > 0, Long));
        Assert.True(thread.TryEnqueue(Sample.Trip(1)));
        Assert.False(thread.StopClean(TimeSpan.FromMilliseconds(100)));
        Assert.Equal(0, thread.DurableEvent);
        File.Delete(folder.File("taken")); // and when it can be made, nothing was lost
        Assert.True(SpinWait.SpinUntil(() => thread.DurableEvent == 1, Long));
    }

    [Fact]
    public void A_file_that_is_taken_away_from_a_running_journal_makes_it_fail_until_it_is_back()
    {
        using var folder = new TempFolder();
        using JournalThread thread = Running(folder, out FileJournalStorage storage);
        using (storage)
        {
            string segment = folder.File("journal/journal-000001.log");
            File.Move(segment, segment + ".old");
            Assert.True(thread.TryEnqueue(Sample.Trip(2)));
            Assert.True(SpinWait.SpinUntil(() => thread.Health == EdgeGuard.Core.Signals.JournalHealth.Failing, 10_000));
            Assert.Equal(1, thread.DurableEvent); // what nobody can find is not on the disk
            Assert.Contains(segment, thread.Failure, StringComparison.Ordinal);
            File.Move(segment + ".old", segment);
            Assert.True(SpinWait.SpinUntil(() => thread.DurableEvent == 2, 10_000));
            Assert.True(thread.StopClean(Long));
            Assert.Empty(JournalVerifier.Verify(storage).Findings);
        }
    }

    [Fact]
    public void A_folder_that_is_deleted_under_a_running_journal_makes_it_fail()
    {
        using var folder = new TempFolder();
        using JournalThread thread = Running(folder, out FileJournalStorage storage);
        using (storage)
        {
            Directory.Delete(folder.File("journal"), recursive: true);
            Assert.True(thread.TryEnqueue(Sample.Trip(2)));
            Assert.True(SpinWait.SpinUntil(() => thread.Health == EdgeGuard.Core.Signals.JournalHealth.Failing, 10_000));
            Assert.Equal(1, thread.DurableEvent);
            Assert.False(thread.StopClean(TimeSpan.FromMilliseconds(100)));
        }
    }

    [Fact]
    public void A_file_that_is_cut_under_a_running_journal_makes_it_fail_and_no_hole_is_left()
    {
        using var folder = new TempFolder();
        using JournalThread thread = Running(folder, out FileJournalStorage storage);
        using (storage)
        {
            string segment = folder.File("journal/journal-000001.log");
            using (var cut = new FileStream(segment, FileMode.Open, FileAccess.Write, FileShare.ReadWrite))
            {
                cut.SetLength(10);
            }

            Assert.True(thread.TryEnqueue(Sample.Trip(2)));
            Assert.True(SpinWait.SpinUntil(() => thread.Health == EdgeGuard.Core.Signals.JournalHealth.Failing, 10_000));
            Assert.False(thread.StopClean(TimeSpan.FromMilliseconds(300))); // several tries
            Assert.Equal(1, thread.DurableEvent);
            Assert.Equal(10, new FileInfo(segment).Length);
        }
    }

    [Fact]
    public void A_head_that_is_deleted_under_a_running_journal_is_written_again()
    {
        using var folder = new TempFolder();
        using JournalThread thread = Running(folder, out FileJournalStorage storage);
        using (storage)
        {
            File.Delete(folder.File("journal/head"));
            Assert.True(thread.TryEnqueue(Sample.Trip(2)));
            Assert.True(SpinWait.SpinUntil(() => File.Exists(folder.File("journal/head")), 10_000));
            Assert.True(thread.StopClean(Long));
            JournalReport report = JournalVerifier.Verify(storage);
            Assert.Empty(report.Findings);
            Assert.Equal(report.LastNumber, report.Head!.Number);
        }
    }

    private static JournalThread Running(TempFolder folder, out FileJournalStorage storage)
    {
        storage = new FileJournalStorage(folder.File("journal"));
        var thread = new JournalThread(storage, Sample.Options());
        thread.Start();
        Assert.True(thread.TryEnqueue(Sample.Trip(1)));
        Assert.True(thread.DrainAndWait(Long));
        return thread;
    }
}
