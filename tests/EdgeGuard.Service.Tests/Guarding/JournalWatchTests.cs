using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Guarding;
using Serilog;
using Serilog.Core;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>A journal that cannot be written is told when it begins, each five minutes and when it is over.</summary>
public sealed class JournalWatchTests : IDisposable
{
    private const string Full = "No space left on device";

    private readonly LineList _lines = new();
    private readonly Logger _log;
    private readonly JournalWatch _watch;

    public JournalWatchTests()
    {
        _log = new LoggerConfiguration().WriteTo.Sink(_lines).CreateLogger();
        _watch = new JournalWatch(_log, "/data/journal", 10_000);
    }

    public void Dispose() => _log.Dispose();

    [Fact]
    public void A_healthy_journal_says_nothing()
    {
        for (int second = 0; second < 1_000; second++)
        {
            _watch.Look(JournalHealth.Healthy, string.Empty, second * 1_000L);
        }

        Assert.Empty(_lines.Texts);
    }

    [Fact]
    public void A_failure_of_11_minutes_is_four_lines()
    {
        _watch.Look(JournalHealth.Healthy, string.Empty, 1_000);
        for (int second = 2; second <= 662; second++)
        {
            _watch.Look(JournalHealth.Failing, Full, second * 1_000L);
        }

        _watch.Look(JournalHealth.Healthy, string.Empty, 663_000);
        _watch.Look(JournalHealth.Healthy, string.Empty, 664_000);
        string[] expected =
        [
            "the journal cannot be written: No space left on device; no unit gets a permit, and units that heat are shut down in order after 10 s; look at /data/journal: disk full, read-only or worn, rights of the folder",
            "the journal has not been written for 5 minutes: No space left on device; look at /data/journal: disk full, read-only or worn, rights of the folder",
            "the journal has not been written for 10 minutes: No space left on device; look at /data/journal: disk full, read-only or worn, rights of the folder",
            "the journal can be written again, after 661 s",
        ];
        Assert.Equal(expected, _lines.Texts);
    }

    [Fact]
    public void A_second_failure_is_told_anew_with_a_reminder_of_its_own()
    {
        _watch.Look(JournalHealth.Failing, Full, 0);
        _watch.Look(JournalHealth.Healthy, string.Empty, 299_000);
        _watch.Look(JournalHealth.Failing, Full, 300_000);
        _watch.Look(JournalHealth.Failing, Full, 599_000);
        Assert.Equal(3, _lines.Texts.Count);
        _watch.Look(JournalHealth.Failing, Full, 600_000);
        Assert.Equal(4, _lines.Texts.Count);
    }

    [Fact]
    public void One_that_is_not_open_yet_cannot_be_written_either()
    {
        _watch.Look(JournalHealth.Unknown, string.Empty, 0);
        Assert.StartsWith("the journal cannot be written: it is still being verified, which takes longer the longer it is; no unit gets a permit, ", Assert.Single(_lines.Texts), StringComparison.Ordinal);
    }

    [Fact]
    public void Lost_events_are_told_once_with_what_it_takes()
    {
        _watch.Look(JournalHealth.Failing, Full, 0);
        _watch.Look(JournalHealth.EventsLost, string.Empty, 5_000);
        _watch.Look(JournalHealth.EventsLost, string.Empty, 6_000);
        string[] lines = [.. _lines.Texts];
        Assert.Equal(3, lines.Length);
        Assert.Equal("the journal can be written again, after 5 s", lines[1]);
        Assert.Contains("none gets a new one until the guard is started again", lines[2], StringComparison.Ordinal);
    }
}
