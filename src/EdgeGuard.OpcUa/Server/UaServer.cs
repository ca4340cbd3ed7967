using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Sessions;
using EdgeGuard.OpcUa.Subscriptions;

namespace EdgeGuard.OpcUa.Server;

/// <summary>
/// The server without I/O: it joins connections, sessions, subscriptions and the address space. The shell accepts
/// connections, moves bytes and calls <see cref="Tick"/> at the deadline it gave; the time is data. Reading and browsing
/// take no lock; sessions and subscriptions change under one gate.
/// </summary>
public sealed class UaServer : IDisposable
{
    private readonly Lock _gate = new();
    private readonly List<UaServerPeer> _peers = [];
    private readonly RequestDispatcher _dispatcher;
    private readonly SubscriptionEngine _subscriptions;

    /// <summary>A server over an address space that is filled by the host.</summary>
    public UaServer(UaServerOptions options, NodeSpace space)
    {
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(space);
        (Options, Space) = (options, space);
        Output = new OutputBudget(options.Limits.OutputBytesMax);
        Sessions = new SessionTable((int)options.Operations.Sessions);
        Nodes = new DiagnosticNodes(space, _gate);
        _subscriptions = new SubscriptionEngine(options, space, Nodes);
        _dispatcher = new RequestDispatcher(this, _subscriptions);
        Diagnostics = new ServerDiagnostics(this, _subscriptions);
        SessionMethods.Install(space, this, _subscriptions);
    }

    /// <summary>What the server is and allows.</summary>
    public UaServerOptions Options { get; }

    /// <summary>The nodes.</summary>
    public NodeSpace Space { get; }

    /// <summary>Figures for the diagnostics.</summary>
    public ServerCounters Counters { get; } = new();

    /// <summary>What the Server object tells of sessions and subscriptions.</summary>
    public ServerDiagnostics Diagnostics { get; }

    /// <summary>Sessions now.</summary>
    public int SessionCount => Sessions.Count;

    /// <summary>Subscriptions now.</summary>
    public int SubscriptionCount => _subscriptions.Count;

    /// <summary>The time of day at the last call.</summary>
    internal UaDateTime NowUtc { get; private set; }

    internal SessionTable Sessions { get; }

    internal DiagnosticNodes Nodes { get; }

    internal SubscriptionEngine Subscriptions => _subscriptions;

    internal ChannelIds ChannelIds { get; } = new((uint)Random.Shared.Next());

    internal Lock Gate => _gate;

    internal OutputBudget Output { get; }

    /// <summary>Ends connections until the output fits its budget, that of the client first that has taken nothing for the longest time.</summary>
    internal void RelieveOutput()
    {
        lock (_gate)
        {
            while (Output.IsOver && Slowest() is { } slowest)
            {
                slowest.Abort($"too much waits to be sent to all clients together, and this one has read nothing for the longest time: {slowest.OutputBytes} bytes");
            }
        }
    }

    /// <summary>A connection that was just accepted; null when there are too many. Half-open ones give way, the oldest first.</summary>
    /// <param name="remote">Address and port of the client, for the log.</param>
    /// <param name="address">Address of the client.</param>
    /// <param name="now">The time.</param>
    public UaServerPeer? Accept(string remote, string address, ChannelClock now)
    {
        lock (_gate)
        {
            if (_peers.Count >= Options.Limits.ConnectionsMax || HalfOpenCount() >= Options.Limits.HalfOpenConnectionsMax)
            {
                UaServerPeer? oldest = OldestHalfOpen();
                if (oldest is null)
                {
                    return null;
                }

                _peers.Remove(oldest);
                oldest.CutOff("gave way to a newer connection: too many without a session");
            }

            var peer = new UaServerPeer(this, remote, address, now);
            _peers.Add(peer);
            Counters.ConnectionAccepted();
            return peer;
        }
    }

    /// <summary>Does what is due: sampling, publishing, time-outs.</summary>
    /// <returns>When it wants to be called again at the latest, monotonic milliseconds.</returns>
    public long Tick(ChannelClock now)
    {
        const long PeerIntervalMs = 100;
        lock (_gate)
        {
            NowUtc = now.Utc;
            long next = _subscriptions.Tick(now);
            EndSessions(now);
            foreach (UaServerPeer peer in _peers)
            {
                peer.Tick(now, Options.Limits.HalfOpenMsMax);
            }

            return Math.Min(next, now.MonotonicMs + PeerIntervalMs);
        }
    }

    /// <summary>Tells that values were stored: items sampled at the fastest rate take them now, so that none is missed.</summary>
    public void Updated(ChannelClock now)
    {
        lock (_gate)
        {
            _subscriptions.SampleFastest(now);
        }
    }

    /// <summary>Ends every connection in order.</summary>
    public void Dispose()
    {
        lock (_gate)
        {
            foreach (UaServerPeer peer in _peers)
            {
                peer.CutOff("the server stops");
            }

            _peers.Clear();
            _subscriptions.Dispose();
        }
    }

    internal void Handle(UaServerPeer peer, ReadOnlySpan<byte> body, uint requestId, ChannelClock now) => _dispatcher.Handle(peer, body, requestId, now);

    internal void PeerClosed(UaServerPeer peer, ChannelClock now)
    {
        lock (_gate)
        {
            _peers.Remove(peer);
            foreach (UaSession session in Sessions.All)
            {
                if (ReferenceEquals(session.Peer, peer))
                {
                    session.Peer = null;
                    session.Publishing.Clear();
                    session.Use(now.MonotonicMs);
                }
            }
        }
    }

    // Under the gate.
    internal void EndSession(UaSession session, bool deleteSubscriptions, string cause, ChannelClock now)
    {
        Sessions.Remove(session);
        if (session.Activated)
        {
            session.Peer?.SessionLeft(now.MonotonicMs);
        }

        _subscriptions.SessionEnded(session, deleteSubscriptions, now);
        Nodes.Remove(session);
        Options.Log?.Note($"session {session.Name} of {session.ClientUri} ended: {cause}");
    }

    private void EndSessions(ChannelClock now)
    {
        foreach (UaSession session in Sessions.All)
        {
            if (now.MonotonicMs >= session.EndMs(Options.Limits.ActivateMsMax))
            {
                Counters.SessionTimedOut();
                EndSession(session, deleteSubscriptions: false, "its time-out passed without a request", now);
            }
        }
    }

    private int HalfOpenCount()
    {
        int count = 0;
        foreach (UaServerPeer peer in _peers)
        {
            count += peer.HasSession ? 0 : 1;
        }

        return count;
    }

    private UaServerPeer? Slowest()
    {
        UaServerPeer? slowest = null;
        foreach (UaServerPeer peer in _peers)
        {
            if (peer.OutputBytes > 0 && (slowest is null || peer.SlowSinceMs < slowest.SlowSinceMs))
            {
                slowest = peer;
            }
        }

        return slowest;
    }

    private UaServerPeer? OldestHalfOpen()
    {
        foreach (UaServerPeer peer in _peers)
        {
            if (!peer.HasSession)
            {
                return peer;
            }
        }

        return null;
    }
}
