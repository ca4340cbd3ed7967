using System.Collections.Concurrent;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;
using Serilog;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Trips, resets and changes of state on the log for people, after their line is in the journal. A thread of its own
/// with a bounded queue, because a terminal that is held must stop neither the journal nor, through it, a permit:
/// what does not fit is left out and counted, the journal has it all the same. Nothing is allocated while nothing happens.
/// </summary>
internal sealed class EventConsole : IDisposable
{
    private const int LinesMax = 256;
    private const int EndLimitMs = 1_000;

    private readonly ILogger _log;
    private readonly BlockingCollection<JournalEntry> _lines = new(LinesMax);
    private readonly Thread _thread;
    private int _leftOut;

    public EventConsole(ILogger log)
    {
        _log = log;
        _thread = new Thread(Run) { IsBackground = true, Name = "console" };
        _thread.Start();
    }

    /// <summary>Takes an event of the core if it is one for people. Never waits.</summary>
    public void Take(JournalEntry entry)
    {
        if (IsForPeople((EventId)entry.Id) && !_lines.IsAddingCompleted && !_lines.TryAdd(entry))
        {
            Interlocked.Increment(ref _leftOut);
        }
    }

    /// <summary>Writes what waits, within a limit.</summary>
    public void Dispose()
    {
        _lines.CompleteAdding();
        if (_thread.Join(EndLimitMs))
        {
            _lines.Dispose();
        }
    }

    private static bool IsForPeople(EventId id) =>
        id is EventId.Trip or EventId.WouldTrip or EventId.Reset or EventId.StateChanged or EventId.ControlledShutdown or EventId.PowerNotRemoved
            or EventId.BypassBegun or EventId.BypassEnded or EventId.BypassExpired or EventId.BypassedDemand or EventId.RepeatedResets;

    private void Run()
    {
        foreach (JournalEntry line in _lines.GetConsumingEnumerable())
        {
            int leftOut = Interlocked.Exchange(ref _leftOut, 0);
            if (leftOut > 0)
            {
                _log.Warning("{Count} lines were left out here because the console did not follow; the journal has them", leftOut);
            }

            Tell(line);
        }
    }

    private void Tell(JournalEntry line)
    {
        switch ((EventId)line.Id)
        {
            case EventId.Reset:
                _log.Information("{Unit}: reset", line.Unit);
                break;
            case EventId.StateChanged:
                _log.Information("{Unit}: {Text}", line.Unit, line.Text);
                break;
            case EventId.PowerNotRemoved:
                _log.Error("{Unit}: {Text}", line.Unit, line.Text);
                break;
            default:
                _log.Warning("{Unit}: {Text}", line.Unit, line.Text);
                break;
        }
    }
}
