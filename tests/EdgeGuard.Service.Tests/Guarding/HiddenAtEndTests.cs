using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Service.Tests.Guarding;

public sealed class HiddenAtEndTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("edgeguard").FullName;
    private readonly GuardEventFormatter _formatter = new(["N-1", "A-1"], 100);

    [Trait("requirement", "ALRM-8")]
    [Fact]
    public void Only_what_the_latest_run_left_hidden_is_named()
    {
        Write("run-1", (EventId.AlarmShelved, FunctionId.Heat, 0));
        Write(
            "run-2",
            (EventId.AlarmShelved, FunctionId.Cool, 0), (EventId.AlarmRemovedFromService, FunctionId.Aftc, 1), (EventId.AlarmShelved, FunctionId.None, 1),
            (EventId.AlarmShelved, FunctionId.Dmnd, 0), (EventId.AlarmUnshelved, FunctionId.Dmnd, 0),
            (EventId.AlarmShelved, FunctionId.Dmnd, 1), (EventId.AlarmShelvingExpired, FunctionId.Dmnd, 1),
            (EventId.AlarmRemovedFromService, FunctionId.Heat, 1), (EventId.AlarmReturnedToService, FunctionId.Heat, 1));
        using var storage = new FileJournalStorage(_folder);
        Assert.Equal(
            [
                "A-1: the alarm of AFTC was out of service when the run before ended; it is shown again.",
                "A-1: the alarm of TRIP was shelved when the run before ended; it is shown again.",
                "N-1: the alarm of COOL was shelved when the run before ended; it is shown again.",
            ],
            HiddenAtEnd.Of(storage));
    }

    [Fact]
    public void Without_a_journal_there_is_nothing_to_name()
    {
        using var storage = new FileJournalStorage(Path.Combine(_folder, "none"));
        Assert.Empty(HiddenAtEnd.Of(storage));
    }

    [Fact]
    public void Segments_from_before_the_latest_run_are_not_read_so_that_a_long_journal_does_not_delay_the_start()
    {
        (EventId, FunctionId, int)[] filling = [.. Enumerable.Repeat((EventId.RequestRefused, FunctionId.None, 0), 20)];
        Write("run-1", filling);
        Write("run-2", [(EventId.AlarmShelved, FunctionId.Cool, 0), .. filling]);
        string[] names = [.. Directory.GetFiles(_folder, "journal-*.log").Order(StringComparer.Ordinal)];
        int first = Array.FindIndex(names, static n => File.ReadAllText(n).Contains("\"run\":\"run-2\"", StringComparison.Ordinal));
        Assert.True(first > 1 && names.Length > first + 2, $"{names.Length} segments, run-2 from {first} on"); // both runs have several
        using (var unreadable = new FileStream(names[0], FileMode.Open))
        {
            unreadable.SetLength(JournalNames.FileBytesMax + 1);
        }

        using var storage = new FileJournalStorage(_folder);
        Assert.Equal(["N-1: the alarm of COOL was shelved when the run before ended; it is shown again."], HiddenAtEnd.Of(storage));
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private void Write(string run, params (EventId Id, FunctionId Alarm, int Unit)[] events)
    {
        using var storage = new FileJournalStorage(_folder);
        using var writer = new JournalWriter(storage, new JournalRun { Id = run, Version = "test", UtcNowMs = static () => 1_767_225_600_000, SegmentBytes = 1_000 });
        writer.Open();
        foreach ((EventId id, FunctionId alarm, int unit) in events)
        {
            writer.Append(_formatter.Format(new GuardEvent { Sequence = 1, Id = id, Function = alarm, Unit = unit }));
            writer.CommitLines();
            writer.CommitHead();
        }
    }
}
