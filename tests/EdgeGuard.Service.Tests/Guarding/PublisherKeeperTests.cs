using System.Collections.Concurrent;
using System.Diagnostics;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Guarding;
using Serilog;
using Serilog.Core;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>The keeper with processes of the system's shell in the publisher's place.</summary>
public sealed class PublisherKeeperTests
{
    private const int PatienceMs = 60_000;
    private const int BackOffMs = 50;

    private readonly ConcurrentQueue<(ShellEventId Id, string Text)> _journal = new();
    private readonly ConcurrentQueue<long> _startsMs = new();
    private readonly LineList _lines = new();

    [Fact]
    public void It_starts_after_the_first_scan_and_starts_again_after_a_death()
    {
        var statistics = new ScanStatistics();
        using PublisherKeeper keeper = Keep("echo >&2 hello; read x", statistics, static l => l with { SilentMs = int.MaxValue, StopMs = PatienceMs });
        Thread.Sleep(100);
        Assert.Empty(_journal);
        statistics.Count(new ScanTick(), 1, 0);
        int first = Await(ShellEventId.PublisherStarted, 1);
        AwaitLine("publisher: hello", 1);
        using (Process process = Process.GetProcessById(first))
        {
            process.Kill();
        }

        int second = Await(ShellEventId.PublisherRestarted, 1);
        Assert.NotEqual(first, second);
        Assert.Contains((ShellEventId.PublisherEnded, "signal 9"), _journal);
        AwaitLine("publisher: hello", 2);
        keeper.Dispose();

        // `read` fails at the end of input, which is how the shell ends with 1.
        Assert.Equal((ShellEventId.PublisherEnded, "exit code 1"), _journal.Last());
    }

    [Fact]
    public void One_that_dies_at_once_is_waited_for_longer_each_time()
    {
        const int Starts = 6;
        using (Keep("exit 7", Scanned()))
        {
            AwaitCount(ShellEventId.PublisherRestarted, Starts - 1);
        }

        // 50, 100, 200, 400, 800 ms between starts, and on a busy machine more.
        long[] startsMs = [.. _startsMs.Take(Starts)];
        Assert.All(Enumerable.Range(0, Starts - 1), i => Assert.True(startsMs[i + 1] - startsMs[i] >= (BackOffMs << i) - 1, $"starts at {string.Join(", ", startsMs.Select(s => s - startsMs[0]))} ms"));
        Assert.Contains((ShellEventId.PublisherEnded, "exit code 7"), _journal);
    }

    [Fact]
    public void A_program_that_is_not_there_is_told_and_never_ends_the_guard()
    {
        using PublisherKeeper keeper = Keep(null, Scanned());
        AwaitCount(ShellEventId.PublisherStartFailed, 2);
    }

    [Fact]
    public void Silence_is_a_fault_and_an_empty_line_is_a_sign_of_life()
    {
        // Signs ten times a second, and room for a busy machine: three seconds without any would be a silence.
        using (Keep("while sleep 0.1; do echo; done", Scanned(), static l => l with { SilentMs = 3_000 }))
        {
            Thread.Sleep(4_500);
            Assert.DoesNotContain(_journal, static e => e.Id == ShellEventId.PublisherSilent);
        }

        Assert.DoesNotContain(_lines.Texts, static t => t.StartsWith("publisher: ", StringComparison.Ordinal));
        using (Keep("echo; exec sleep 60", Scanned()))
        {
            AwaitCount(ShellEventId.PublisherSilent, 1);
            AwaitCount(ShellEventId.PublisherRestarted, 1);
        }
    }

    [Fact]
    public void One_that_a_signal_has_stopped_is_ended_and_started_again_and_the_journal_says_why()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "the state of a process is told on Linux only");
        using PublisherKeeper keeper = Keep("echo; exec sleep 600", Scanned(), static l => l with { SilentMs = int.MaxValue });
        int first = Await(ShellEventId.PublisherStarted, 1);
        ProcStatCodecTests.Signal("STOP", first);
        AwaitCount(ShellEventId.PublisherRestarted, 1);
        Assert.Equal(
            [(ShellEventId.PublisherStopped, "stopped by a signal"), (ShellEventId.PublisherEnded, "signal 9")],
            _journal.Skip(1).Take(2));
    }

    [Fact]
    public void Stopped_is_what_a_signal_keeps_stopped_for_two_looks()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "the state of a process is told on Linux only");
        using Logger log = new LoggerConfiguration().WriteTo.Sink(_lines).CreateLogger();
        using var child = PublisherProcess.Start(new PublisherLaunch { Command = ["/bin/sleep", "600"], MemoryLimitMb = 16 }, log, static () => { });
        using var stat = new ProcFile(child.Id, "stat");
        try
        {
            for (int i = 0; i < 3; i++)
            {
                ProcStatCodecTests.Await(stat, (byte)'S');
                Assert.False(child.StaysStopped());
                ProcStatCodecTests.Signal("STOP", child.Id);
                ProcStatCodecTests.Await(stat, ProcStatCodec.StoppedBySignal);
                Assert.False(child.StaysStopped());
                if (i < 2)
                {
                    ProcStatCodecTests.Signal("CONT", child.Id);
                }
            }

            Assert.True(child.StaysStopped());
            Assert.True(child.StaysStopped());
        }
        finally
        {
            child.Kill();
        }

        Assert.True(child.WaitForEnd(PatienceMs));
        Assert.False(child.StaysStopped());
    }

    [Fact]
    public void A_process_above_its_memory_is_started_again()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "memory is watched on Linux only");
        using PublisherKeeper keeper = Keep("echo; x=$(head -c 30000000 /dev/zero | tr '\\0' x); read y", Scanned(), static l => l with { SilentMs = int.MaxValue });
        AwaitCount(ShellEventId.PublisherOverMemory, 1);
        AwaitCount(ShellEventId.PublisherRestarted, 1);
    }

    [Fact]
    public void A_flood_of_lines_is_cut_counted_and_made_printable()
    {
        long startMs = Environment.TickCount64;
        using (Keep("printf '\\033[2Jred\\n'; i=0; while [ $i -lt 500 ]; do printf '%0900d\\n' 5; i=$((i+1)); done; read x", Scanned(), static l => l with { SilentMs = int.MaxValue }))
        {
            AwaitLine("publisher: ?[2Jred", 1);
            Thread.Sleep(1_500);
            Assert.True(SpinWait.SpinUntil(() => _lines.Texts.Count >= 5, PatienceMs), "the lines of the flood did not come");
        }

        // Ten lines a second and a word on each second that had more.
        Assert.InRange(_lines.Texts.Count, 5, 2 * 11 * (1 + ((Environment.TickCount64 - startMs) / 1000)));
        Assert.True(_lines.Texts.Count < 400, "the flood was not cut");
        Assert.All(_lines.Texts, static t => Assert.InRange(t.Length, 0, 500));
    }

    [Fact]
    public void Resident_memory_is_that_of_the_system()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "memory is watched on Linux only");
        using var memory = new ResidentMemory(Environment.ProcessId);
        memory.ReadBytes();
        long allocated = GC.GetAllocatedBytesForCurrentThread();
        memory.ReadBytes();
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - allocated);

        // Other tests allocate beside this one: between two readings of the system, once they do not.
        (double Low, double High, long Read) found = default;
        bool agree = SpinWait.SpinUntil(
            () =>
            {
                long before = SystemsRss();
                long bytes = memory.ReadBytes();
                long after = SystemsRss();
                found = (0.8 * Math.Min(before, after), 1.2 * Math.Max(before, after), bytes);
                return found.Read >= found.Low && found.Read <= found.High;
            },
            10_000);
        Assert.True(agree, $"{found}");
    }

    // VmRSS of /proc/self/status, kB (proc_pid_status(5)).
    private static long SystemsRss()
    {
        string line = File.ReadLines("/proc/self/status").First(static l => l.StartsWith("VmRSS:", StringComparison.Ordinal));
        return long.Parse(line.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)[1], System.Globalization.CultureInfo.InvariantCulture) * 1024;
    }

    private static ScanStatistics Scanned()
    {
        var statistics = new ScanStatistics();
        statistics.Count(new ScanTick(), 1, 0);
        return statistics;
    }

    private PublisherKeeper Keep(string? script, ScanStatistics statistics, Func<PublisherLaunch, PublisherLaunch>? change = null)
    {
        var launch = new PublisherLaunch
        {
            Command = script is null ? ["/nowhere/edgeguard"] : ["/bin/sh", "-c", script],
            MemoryLimitMb = 16,
            BackOffMs = BackOffMs,
            SilentMs = 1_000,
            StopMs = 2_000,
        };
        Logger log = new LoggerConfiguration().WriteTo.Sink(_lines).CreateLogger();
        var keeper = new PublisherKeeper(change?.Invoke(launch) ?? launch, statistics, (id, text, _) => Journal(id, text), log);
        keeper.Start();
        return keeper;
    }

    private void Journal(ShellEventId id, string text)
    {
        if (id is ShellEventId.PublisherStarted or ShellEventId.PublisherRestarted)
        {
            _startsMs.Enqueue(Environment.TickCount64);
        }

        _journal.Enqueue((id, text));
    }

    private int Await(ShellEventId id, int count)
    {
        AwaitCount(id, count);
        string text = _journal.First(e => e.Id == id).Text;
        return int.Parse(text["process ".Length..], System.Globalization.CultureInfo.InvariantCulture);
    }

    private void AwaitCount(ShellEventId id, int count) =>
        Assert.True(SpinWait.SpinUntil(() => _journal.Count(e => e.Id == id) >= count, PatienceMs), $"{id} × {count} did not come: {string.Join("; ", _journal)}");

    private void AwaitLine(string text, int count) =>
        Assert.True(SpinWait.SpinUntil(() => _lines.Texts.Count(t => t == text) >= count, PatienceMs), $"\"{text}\" × {count} did not come: {string.Join("; ", _lines.Texts)}");
}
