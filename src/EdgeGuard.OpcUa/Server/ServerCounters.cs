namespace EdgeGuard.OpcUa.Server;

/// <summary>Counts since start; for the diagnostics and for tests. Safe for several threads.</summary>
public sealed class ServerCounters
{
    private long _connections;
    private long _sessions;
    private long _rejectedSessions;
    private long _timedOutSessions;
    private long _requests;
    private long _rejectedRequests;

    /// <summary>Connections accepted.</summary>
    public long Connections => Interlocked.Read(ref _connections);

    /// <summary>Sessions made.</summary>
    public long Sessions => Interlocked.Read(ref _sessions);

    /// <summary>Sessions refused.</summary>
    public long RejectedSessions => Interlocked.Read(ref _rejectedSessions);

    /// <summary>Sessions that timed out.</summary>
    public long TimedOutSessions => Interlocked.Read(ref _timedOutSessions);

    /// <summary>Requests answered.</summary>
    public long Requests => Interlocked.Read(ref _requests);

    /// <summary>Requests answered with a fault.</summary>
    public long RejectedRequests => Interlocked.Read(ref _rejectedRequests);

    internal void ConnectionAccepted() => Interlocked.Increment(ref _connections);

    internal void SessionMade() => Interlocked.Increment(ref _sessions);

    internal void SessionRejected() => Interlocked.Increment(ref _rejectedSessions);

    internal void SessionTimedOut() => Interlocked.Increment(ref _timedOutSessions);

    internal void Request(bool rejected)
    {
        Interlocked.Increment(ref _requests);
        if (rejected)
        {
            Interlocked.Increment(ref _rejectedRequests);
        }
    }
}
