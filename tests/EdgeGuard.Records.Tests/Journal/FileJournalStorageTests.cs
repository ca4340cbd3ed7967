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
}
