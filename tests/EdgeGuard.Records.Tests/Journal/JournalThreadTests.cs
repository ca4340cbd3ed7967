using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Records.Tests.Journal;

public sealed class JournalThreadTests
{
    private static readonly TimeSpan Long = TimeSpan.FromSeconds(60);

    [Fact]
    public void Events_become_durable_and_the_watermark_follows()
    {
        using var storage = new FaultyStorage();
        using var thread = new JournalThread(storage, Sample.Options());
        Assert.Equal(JournalHealth.Unknown, thread.Health);
        thread.Start();
        for (int i = 1; i <= 100; i++)
        {
            Assert.True(thread.TryEnqueue(Sample.Trip(i)));
        }

        Assert.True(thread.DrainAndWait(Long));
        Assert.Equal(100, thread.DurableEvent);
        Assert.Equal(JournalHealth.Healthy, thread.Health);
        Assert.True(thread.StopClean(Long));
        JournalReport report = JournalVerifier.Verify(storage.PowerLoss());
        Assert.Empty(report.Findings);
        Assert.Equal(103, report.LastNumber); // first-run, run-started, 100 trips, clean-stop
        Assert.Equal((int)ShellEventId.CleanStop, report.LastEventId);
    }

    [Theory]
    [InlineData("write")]
    [InlineData("sync")]
    [InlineData("open")]
    [InlineData("syncfolder")]
    public void A_disk_that_fails_shows_as_failing_and_nothing_is_lost_when_it_recovers(string operation)
    {
        using var storage = new FaultyStorage();
        bool failing = true;
        storage.Fault = (what, _) => Volatile.Read(ref failing) && string.Equals(what, operation, StringComparison.Ordinal) ? new IOException("No space left on device") : null;
        using var thread = new JournalThread(storage, Sample.Options());
        thread.Start();
        Assert.True(thread.TryEnqueue(Sample.Trip(1)));
        Assert.True(SpinWait.SpinUntil(() => thread.Health == JournalHealth.Failing, Long), "the first attempt did not fail");
        Assert.False(thread.DrainAndWait(TimeSpan.FromMilliseconds(50)));
        Assert.Equal("No space left on device", thread.Failure);
        Assert.Equal(0, thread.DurableEvent);

        Volatile.Write(ref failing, false);
        Assert.True(thread.DrainAndWait(Long));
        Assert.Equal(JournalHealth.Healthy, thread.Health);
        Assert.Equal(1, thread.DurableEvent);
        Assert.True(thread.StopClean(Long));
        JournalReport report = JournalVerifier.Verify(storage.PowerLoss());
        Assert.Empty(report.Findings);
        string text = System.Text.Encoding.UTF8.GetString(storage.Read("journal-000001.log"));
        Assert.Single(text.Split('\n'), l => l.Contains("\"event\":\"trip\"", StringComparison.Ordinal));
        Assert.Contains("\"event\":\"journal-recovered\"", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_disk_that_does_not_come_back_from_a_write_is_failing_while_it_does_not()
    {
        using var storage = new FaultyStorage();
        using var hang = new ManualResetEventSlim(initialState: true);
        storage.Fault = (what, _) =>
        {
            bool came = !string.Equals(what, "sync", StringComparison.Ordinal) || hang.Wait(Long);
            return came ? null : new IOException("the test never let go");
        };
        using var thread = new JournalThread(storage, Sample.Options() with { StallMs = 200 });
        thread.Start();
        Assert.True(thread.DrainAndWait(Long));
        AwaitHealthy(thread);
        hang.Reset();
        Assert.True(thread.TryEnqueue(Sample.Trip(1)));
        Assert.True(SpinWait.SpinUntil(() => thread.Health == JournalHealth.Failing, Long));
        Assert.StartsWith("the disk did not finish a write for ", thread.Failure, StringComparison.Ordinal);
        Assert.Equal(0, thread.DurableEvent);

        hang.Set();
        Assert.True(thread.DrainAndWait(Long));
        AwaitHealthy(thread);
        Assert.Equal(1, thread.DurableEvent);
        Assert.True(thread.StopClean(Long));
        Assert.Empty(JournalVerifier.Verify(storage.PowerLoss()).Findings);
        Assert.Contains("\"event\":\"journal-recovered\"", System.Text.Encoding.UTF8.GetString(storage.Read("journal-000001.log")), StringComparison.Ordinal);
    }

    // A busy machine may hold up the thread for longer than the stall that is set here.
    private static void AwaitHealthy(JournalThread thread) =>
        Assert.True(SpinWait.SpinUntil(() => thread.Health == JournalHealth.Healthy, Long), $"{thread.Health}: {thread.Failure}");

    [Fact]
    public void A_clean_stop_that_could_not_be_written_in_its_time_is_not_waited_for_again()
    {
        using var storage = new FaultyStorage();
        var thread = new JournalThread(storage, Sample.Options());
        thread.Start();
        Assert.True(thread.DrainAndWait(Long));
        storage.Fault = static (_, _) => new IOException("read-only");
        Assert.False(thread.StopClean(TimeSpan.FromMilliseconds(200)));
        long began = Environment.TickCount64;
        thread.Dispose();
        Assert.InRange(Environment.TickCount64 - began, 0, 3_000); // the whole wait is 5 s, and a disk that fails does not come back for it
        storage.Fault = static (_, _) => null;
        Assert.NotEqual((int)ShellEventId.CleanStop, JournalVerifier.Verify(storage).LastEventId);
    }

    [Fact]
    public void A_disk_that_stays_too_slow_still_gets_every_event_and_a_clean_stop()
    {
        using var storage = new FaultyStorage();
        bool slow = false;
        storage.Fault = (what, _) =>
        {
            Thread.Sleep(Volatile.Read(ref slow) && string.Equals(what, "sync", StringComparison.Ordinal) ? 30 : 0);
            return null;
        };
        using var thread = new JournalThread(storage, Sample.Options() with { StallMs = 10 });
        thread.Start();
        Assert.True(thread.DrainAndWait(Long));
        Volatile.Write(ref slow, true);
        for (int i = 1; i <= 5; i++)
        {
            Assert.True(thread.TryEnqueue(Sample.Trip(i)));
            Assert.True(thread.DrainAndWait(Long));
            Assert.Equal(i, thread.DurableEvent);
        }

        Assert.True(thread.StopClean(Long));
        JournalReport report = JournalVerifier.Verify(storage.PowerLoss());
        Assert.Empty(report.Findings);
        Assert.Equal((int)ShellEventId.CleanStop, report.LastEventId);
    }

    [Fact]
    public void Overflow_is_failing_at_once_counted_journalled_and_stops_the_watermark()
    {
        using var storage = new FaultyStorage();
        using var thread = new JournalThread(storage, Sample.Options(eventCapacity: 8));
        int accepted = 0;
        for (int i = 1; i <= 11; i++) // not started: nothing drains
        {
            accepted += thread.TryEnqueue(Sample.Trip(i)) ? 1 : 0;
        }

        Assert.Equal(8, accepted);
        Assert.Equal(3, thread.LostEvents);
        Assert.Equal(JournalHealth.Failing, thread.Health);
        thread.Start();
        Assert.True(thread.DrainAndWait(Long));
        Assert.True(thread.TryEnqueue(Sample.Trip(12)));
        Assert.True(thread.DrainAndWait(Long));
        Assert.Equal(8, thread.DurableEvent); // 9, 10, 11 are lost: nothing after them counts as durable
        Assert.Equal(JournalHealth.EventsLost, thread.Health);
        string text = System.Text.Encoding.UTF8.GetString(storage.Read("journal-000001.log"));
        Assert.Contains("\"event\":\"events-lost\",\"detail\":3", text, StringComparison.Ordinal);
    }

    [Fact]
    public void An_event_is_told_once_its_line_is_written_and_only_once()
    {
        using var storage = new FaultyStorage();
        var told = new List<string>();
        JournalThreadOptions options = Sample.Options() with
        {
            Written = entry => told.Add($"{entry.Sequence} {System.Text.Encoding.UTF8.GetString(storage.Read("journal-000001.log")).Contains($"\"seq\":{entry.Sequence},", StringComparison.Ordinal)}"),
        };
        using var thread = new JournalThread(storage, options);
        thread.TryEnqueue(Sample.Trip(1));
        thread.TryEnqueue(Sample.Trip(2));
        thread.Start();
        Assert.True(thread.DrainAndWait(Long));
        thread.TryEnqueue(Sample.Trip(3));
        Assert.True(thread.DrainAndWait(Long));
        Assert.Equal(["1 True", "2 True", "3 True"], told);
    }

    [Fact]
    public void Entries_of_the_shell_are_bounded_and_a_loss_is_journalled()
    {
        using var storage = new FaultyStorage();
        using var thread = new JournalThread(storage, Sample.Options() with { EntryCapacity = 4 });
        for (int i = 0; i < 6; i++)
        {
            Assert.Equal(i < 4, thread.TryPost(new JournalEntry { Id = (int)ShellEventId.Note, UtcUnixMs = Sample.Utc, Person = "shift lead", Reason = "test \"quoted\"\t\n" }));
        }

        thread.Start();
        Assert.True(thread.DrainAndWait(Long));
        Assert.Equal(2, thread.LostEntries);
        string text = System.Text.Encoding.UTF8.GetString(storage.Read("journal-000001.log"));
        Assert.Contains("\"event\":\"entries-lost\",\"detail\":2", text, StringComparison.Ordinal);
        Assert.Empty(JournalVerifier.Verify(storage).Findings);
    }

    [Fact]
    public void A_thread_that_ends_without_a_clean_stop_is_found_by_the_next_run()
    {
        using var storage = new FaultyStorage();
        using (var first = new JournalThread(storage, Sample.Options()))
        {
            first.Start();
            Assert.True(first.DrainAndWait(Long));
        }

        using var second = new JournalThread(storage, Sample.Options());
        second.Start();
        Assert.True(second.StopClean(Long));
        string[] lines = System.Text.Encoding.UTF8.GetString(storage.Read("journal-000001.log")).Split('\n');
        Assert.Contains("first-run", lines[0], StringComparison.Ordinal);
        Assert.Contains("unclean-stop-found", lines[2], StringComparison.Ordinal);

        using var third = new JournalThread(storage, Sample.Options());
        third.Start();
        Assert.True(third.DrainAndWait(Long));
        lines = System.Text.Encoding.UTF8.GetString(storage.Read("journal-000001.log")).Split('\n');
        Assert.Contains("clean-stop-found", lines[5], StringComparison.Ordinal);
    }

    [Fact]
    public void Handing_over_an_event_allocates_nothing()
    {
        using var storage = new FaultyStorage();
        using var thread = new JournalThread(storage, Sample.Options(eventCapacity: 131_072));
        thread.Start();
        Assert.True(thread.TryEnqueue(Sample.Trip(1)));
        Assert.True(thread.DrainAndWait(Long));
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 2; i <= 100_001; i++)
        {
            _ = thread.TryEnqueue(Sample.Trip(i));
        }

        long after = GC.GetAllocatedBytesForCurrentThread();
        Assert.Equal(0, after - before);
        Assert.Equal(0, thread.LostEvents);
    }
}
