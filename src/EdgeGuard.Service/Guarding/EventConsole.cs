using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;
using Serilog;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Trips, resets and changes of state on the log for people, after their line is in the journal. On the journal's thread:
/// the log must not wait (<see cref="GuardOptions.Log"/>), or a terminal that is held would stop the journal and, through
/// it, a permit.
/// </summary>
internal sealed class EventConsole
{
    private readonly ILogger _log;

    public EventConsole(ILogger log) => _log = log;

    /// <summary>Tells an event of the core if it is one for people.</summary>
    public void Take(JournalEntry line)
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
            case EventId.Trip or EventId.WouldTrip or EventId.ControlledShutdown or EventId.RepeatedResets
                or EventId.BypassBegun or EventId.BypassEnded or EventId.BypassExpired or EventId.BypassedDemand:
                _log.Warning("{Unit}: {Text}", line.Unit, line.Text);
                break;
        }
    }
}
