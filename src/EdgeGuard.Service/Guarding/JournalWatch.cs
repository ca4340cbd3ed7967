using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Journal;
using Serilog;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Tells people that the journal cannot be written: it cannot say so itself before it is over. One line when it begins, one
/// each five minutes while it lasts, which is seen in a log that rolls and does not fill a disk that is full already, and
/// one when it is over. Called by the supervisor once a second; a failure that is over within that is in the journal alone.
/// </summary>
internal sealed class JournalWatch
{
    private const long ReminderMs = 300_000;

    private readonly ILogger _log;
    private readonly string _folder;
    private readonly int _limitMs;
    private long _sinceMs = -1;
    private long _toldMs;
    private bool _lossTold;

    /// <summary>Watches one journal.</summary>
    /// <param name="log">Where it is told.</param>
    /// <param name="folder">Folder of the journal, for the person who looks at its disk.</param>
    /// <param name="limitMs">Time after which units that heat are shut down (JRNL), ms.</param>
    public JournalWatch(ILogger log, string folder, int limitMs)
    {
        _log = log;
        _folder = folder;
        _limitMs = limitMs;
    }

    /// <summary>Looks at the journal and tells what is to be told; allocates nothing while it is healthy.</summary>
    /// <param name="health">Health of the journal now.</param>
    /// <param name="failure">Why it cannot be written.</param>
    /// <param name="nowMs">Time of any monotonic clock, ms.</param>
    public void Look(JournalHealth health, string failure, long nowMs)
    {
        if (health is JournalHealth.Failing or JournalHealth.Unknown)
        {
            Fails(failure, nowMs);
            return;
        }

        if (_sinceMs >= 0)
        {
            _log.Information("the journal can be written again, after {Seconds} s", (nowMs - _sinceMs) / 1_000);
            _sinceMs = -1;
        }

        if (health == JournalHealth.EventsLost && !_lossTold)
        {
            _lossTold = true;
            _log.Error("the journal lost events because its queue was full: units that have a permit go on, none gets a new one until the guard is started again; look at {Folder}, the journal says from which event on (events-lost)", _folder);
        }
    }

    private void Fails(string failure, long nowMs)
    {
        if (_sinceMs < 0)
        {
            _sinceMs = nowMs;
            _toldMs = nowMs;
            _log.Error("the journal cannot be written: {Cause}; no unit gets a permit, and units that heat are shut down in order after {Limit} s; look at {Folder}: disk full, read-only or worn, rights of the folder", Words(failure), _limitMs / 1_000.0, _folder);
        }
        else if (nowMs - _toldMs >= ReminderMs)
        {
            _toldMs = nowMs;
            _log.Error("the journal has not been written for {Time}: {Cause}; look at {Folder}: disk full, read-only or worn, rights of the folder", Counted.Of((nowMs - _sinceMs) / 60_000, "minute"), Words(failure), _folder);
        }
    }

    private static string Words(string failure) => failure.Length > 0 ? failure : "it is still being verified, which takes longer the longer it is";
}
