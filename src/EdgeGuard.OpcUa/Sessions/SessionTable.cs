using System.Collections.Concurrent;

namespace EdgeGuard.OpcUa.Sessions;

/// <summary>All sessions by their authentication token. Looking up needs no lock; every change is made under the server's gate.</summary>
internal sealed class SessionTable(int sessionsMax)
{
    private readonly ConcurrentDictionary<NodeId, UaSession> _byToken = new();

    public int Count => _byToken.Count;

    public IEnumerable<UaSession> All => _byToken.Values;

    public UaSession? Find(NodeId token) => _byToken.GetValueOrDefault(token);

    /// <summary>False when the table is full of sessions in use; a session that was never activated gives way.</summary>
    public bool TryAdd(UaSession session, out UaSession? gaveWay)
    {
        gaveWay = null;
        if (_byToken.Count >= sessionsMax)
        {
            gaveWay = OldestUnused();
            if (gaveWay is null)
            {
                return false;
            }

            Remove(gaveWay);
        }

        return _byToken.TryAdd(session.Token, session);
    }

    public void Remove(UaSession session)
    {
        session.Closed = true;
        _byToken.TryRemove(session.Token, out _);
    }

    private UaSession? OldestUnused()
    {
        UaSession? oldest = null;
        foreach (UaSession session in _byToken.Values)
        {
            if (!session.Activated && (oldest is null || session.CreatedMs < oldest.CreatedMs))
            {
                oldest = session;
            }
        }

        return oldest;
    }
}
