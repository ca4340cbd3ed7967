using System.Collections.Concurrent;

namespace EdgeGuard.OpcUa.Sessions;

/// <summary>All sessions by their authentication token. Looking up needs no lock; every change is made under the server's gate.</summary>
internal sealed class SessionTable(int sessionsMax)
{
    private readonly ConcurrentDictionary<NodeId, UaSession> _byToken = new();

    public int Count => _byToken.Count;

    public IEnumerable<UaSession> All => _byToken.Values;

    /// <summary>Active sessions that were made from an address; others give way anyhow.</summary>
    public int CountFrom(string address)
    {
        int count = 0;
        foreach ((_, UaSession session) in _byToken)
        {
            count += session.Activated && string.Equals(session.Address, address, StringComparison.Ordinal) ? 1 : 0;
        }

        return count;
    }

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
