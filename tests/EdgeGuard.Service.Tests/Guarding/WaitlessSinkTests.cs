using System.Diagnostics;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Guarding;
using Serilog;
using Serilog.Core;
using Serilog.Events;

namespace EdgeGuard.Service.Tests.Guarding;

public sealed class WaitlessSinkTests
{
    private static readonly TimeSpan Limit = TimeSpan.FromSeconds(60);

    [Fact]
    public void Lines_arrive_in_order_and_all_of_them_before_the_log_ends()
    {
        var sink = new HeldSink();
        sink.Release();
        using (Logger log = Waitless(sink))
        {
            for (int i = 0; i < 100; i++)
            {
                log.Information("line {Number}", i);
            }
        }

        Assert.Equal(Enumerable.Range(0, 100).Select(i => $"line {i}"), sink.Lines);
    }

    [Fact]
    public async Task A_link_that_is_lost_while_the_terminal_is_held_does_not_stop_its_thread()
    {
        var sink = new HeldSink();
        using Logger log = Waitless(sink);
        using var storage = new FileJournalStorage(Path.Combine(Path.GetTempPath(), Path.GetRandomFileName()));
        using var journal = new JournalThread(storage, new JournalThreadOptions { Run = new JournalRun { Id = "run-1", Version = "0.1.0", UtcNowMs = static () => 0 }, UnitNames = ["N-1"], ScanMs = 100 });
        var port = new JournalPort(journal, static () => 0, log);
        Task told = Task.Run(
            () =>
            {
                for (int i = 0; i < 1_000; i++)
                {
                    port.LinkDown("cabinet", "no answer in time");
                    port.LinkUp("cabinet");
                }
            },
            TestContext.Current.CancellationToken);
        await told.WaitAsync(Limit, TestContext.Current.CancellationToken);
        sink.Release();
        Assert.True(SpinWait.SpinUntil(() => sink.Lines.Any(l => l.Contains(" left out here because", StringComparison.Ordinal)), Limit));
    }

    [Fact]
    public async Task Trips_told_while_the_terminal_is_held_do_not_stop_the_journals_thread()
    {
        var sink = new HeldSink();
        using Logger log = Waitless(sink);
        var console = new EventConsole(log);
        Task told = Task.Run(
            () =>
            {
                for (int i = 0; i < 1_000; i++)
                {
                    console.Take(new JournalEntry { Id = (int)EventId.Trip, UtcUnixMs = 0, Unit = "N-1", Text = "Power removed." });
                }
            },
            TestContext.Current.CancellationToken);
        await told.WaitAsync(Limit, TestContext.Current.CancellationToken);
        sink.Release();
        Assert.True(SpinWait.SpinUntil(() => sink.Lines.Any(l => l.Contains(" left out here because", StringComparison.Ordinal)), Limit));
    }

    [Fact]
    public void A_held_log_does_not_hold_the_end_of_the_guard()
    {
        var sink = new HeldSink();
        Logger log = Waitless(sink);
        log.Information("never written");
        var watch = Stopwatch.StartNew();
        log.Dispose();
        Assert.InRange(watch.Elapsed, TimeSpan.Zero, Limit);
        log.Information("after the end");
        Assert.Empty(sink.Lines);
        sink.Release();
    }

    private static Logger Waitless(HeldSink sink) =>
        new LoggerConfiguration().WriteTo.Sink(new WaitlessSink(new LoggerConfiguration().WriteTo.Sink(sink).CreateLogger())).CreateLogger();

    /// <summary>A terminal that is held until it is released.</summary>
    private sealed class HeldSink : ILogEventSink
    {
        private readonly List<string> _lines = [];
        private volatile bool _released;

        public string[] Lines
        {
            get
            {
                lock (_lines)
                {
                    return [.. _lines];
                }
            }
        }

        public void Release() => _released = true;

        public void Emit(LogEvent logEvent)
        {
            while (!_released)
            {
                Thread.Sleep(1);
            }

            lock (_lines)
            {
                _lines.Add(logEvent.RenderMessage(System.Globalization.CultureInfo.InvariantCulture));
            }
        }
    }
}
