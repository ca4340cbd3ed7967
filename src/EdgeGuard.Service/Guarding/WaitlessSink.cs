using System.Collections.Concurrent;
using EdgeGuard.Records.Journal;
using Serilog.Core;
using Serilog.Events;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Stands between the guard's threads and a log that may block: a terminal that is held (Ctrl+S) or a pipe nobody reads
/// would stop the thread that writes a line, and with a link's thread its polls and removals. A bounded queue and a thread
/// of its own; what does not fit is left out and counted.
/// </summary>
public sealed class WaitlessSink : ILogEventSink, IDisposable
{
    private const int EventsMax = 512;
    private const int EndLimitMs = 1_000;

    private readonly Logger _log;
    private readonly BlockingCollection<LogEvent> _events = new(EventsMax);
    private readonly Thread _thread;
    private int _leftOut;

    /// <summary>Starts the thread.</summary>
    /// <param name="log">Where the lines go in the end; disposed with this.</param>
    public WaitlessSink(Logger log)
    {
        _log = log;
        _thread = new Thread(Run) { IsBackground = true, Name = "log" };
        _thread.Start();
    }

    /// <summary>Takes a line. Never waits; any thread.</summary>
    public void Emit(LogEvent logEvent)
    {
        try
        {
            if (!_events.TryAdd(logEvent))
            {
                Interlocked.Increment(ref _leftOut);
            }
        }
        catch (InvalidOperationException)
        {
            // A line after the end of the log, from a thread that ends late.
        }
    }

    /// <summary>Writes what waits, within a limit: a log that is held must not hold the end of the guard either.</summary>
    public void Dispose()
    {
        _events.CompleteAdding();
        if (_thread.Join(EndLimitMs))
        {
            _events.Dispose();
            _log.Dispose();
        }
    }

    private void Run()
    {
        foreach (LogEvent line in _events.GetConsumingEnumerable())
        {
            int leftOut = Interlocked.Exchange(ref _leftOut, 0);
            if (leftOut > 0)
            {
                _log.Warning("{Lines} left out here because the log did not follow; the journal has what counts", Counted.Of(leftOut, "line was", "lines were"));
            }

            _log.Write(line);
        }
    }
}
