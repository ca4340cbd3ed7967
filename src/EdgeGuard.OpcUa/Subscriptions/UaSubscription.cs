using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Sessions;

namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>State of one subscription. It may outlive its session until its lifetime has passed. Under the server's gate.</summary>
internal sealed class UaSubscription(ServerLimits limits) : IDisposable
{
    // Cycles of all subscriptions start on a common grid, so that fifty of them wake the server no more often than ten.
    private const int GridMs = 10;

    private uint _lastSequenceNumber;
    private double _nextMs;

    public required uint Id { get; init; }

    /// <summary>Owner now; null after its session ended.</summary>
    public UaSession? Session { get; set; }

    /// <summary>The last owner's user; decides who may take it over.</summary>
    public required UserIdentity Owner { get; set; }

    /// <summary>The last owner's application.</summary>
    public required string OwnerUri { get; set; }

    /// <summary>Whether the last owner's channel was signed, so that its application proved its name.</summary>
    public bool OwnerSigned { get; set; }

    /// <summary>For the diagnostics.</summary>
    public SubscriptionTally Tally { get; } = new();

    /// <summary>What clients find of it in the space; null before it was added.</summary>
    public SubscriptionNodes? Nodes { get; set; }

    /// <summary>Who samples.</summary>
    public required CallerContext Caller { get; set; }

    public double IntervalMs { get; set; }

    public uint LifetimeCount { get; set; }

    public uint KeepAliveCount { get; set; }

    public uint NotificationsMax { get; set; }

    public byte Priority { get; set; }

    public bool PublishingEnabled { get; set; }

    public Dictionary<uint, MonitoredItem> Items { get; } = [];

    /// <summary>The same items in the order in which they are told.</summary>
    public List<MonitoredItem> Order { get; } = [];

    /// <summary>How many of them are disabled.</summary>
    public int DisabledItems { get; set; }

    /// <summary>Where telling goes on, so that a bound on the message starves no item.</summary>
    public int Cursor { get; set; }

    /// <summary>Values that wait to be told.</summary>
    public int Pending { get; set; }

    public SentMessages Sent { get; } = new(limits);

    /// <summary>Cycles since a message was sent.</summary>
    public uint SilentCycles { get; set; }

    /// <summary>Cycles since the client gave a sign of life.</summary>
    public uint LifetimeCycles { get; set; }

    public bool FirstSent { get; set; }

    /// <summary>Since when a message waits for a Publish request; 0 when none waits.</summary>
    public long LateSinceMs { get; set; }

    public long NextMs => (long)_nextMs;

    /// <summary>The number of the next message; keep-alives carry it without using it up.</summary>
    public uint NextSequenceNumber => _lastSequenceNumber == uint.MaxValue ? 1 : _lastSequenceNumber + 1;

    /// <summary>Goes on after a number; for tests of what is reached after years.</summary>
    internal void ForceSequence(uint last) => _lastSequenceNumber = last;

    /// <summary>Uses up the next number.</summary>
    public uint UseSequenceNumber() => _lastSequenceNumber = NextSequenceNumber;

    /// <summary>Starts or restarts the publishing timer.</summary>
    public void Schedule(long nowMs) => _nextMs = Math.Ceiling((nowMs + IntervalMs) / GridMs) * GridMs;

    /// <summary>Whether a cycle is due; cycles that were missed are not made up for.</summary>
    public bool TakeCycle(long nowMs)
    {
        if (nowMs < NextMs)
        {
            return false;
        }

        _nextMs += IntervalMs;
        if (_nextMs <= nowMs)
        {
            Schedule(nowMs);
        }

        return true;
    }

    /// <summary>Its session was activated again: rights are those of the user now, also for what is monitored already.</summary>
    public void ChangeUser(UaSession session)
    {
        bool isOther = Owner != session.Identity;
        (Owner, OwnerUri, OwnerSigned, Caller) = (session.Identity, session.ClientUri, session.Policy.IsSecure, session.Caller);
        bool anyLost = false;
        if (isOther)
        {
            Order.ForEach(item => anyLost |= item.ChangeUser());
        }

        // What was told to the former user is not told again to this one.
        if (anyLost)
        {
            Sent.Dispose();
        }
    }

    /// <summary>The client gave a sign of life.</summary>
    public void Alive() => LifetimeCycles = 0;

    public void Dispose() => Sent.Dispose();
}
