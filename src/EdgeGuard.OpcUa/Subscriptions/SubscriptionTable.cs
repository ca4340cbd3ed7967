using EdgeGuard.OpcUa.Sessions;

namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>All subscriptions of the server. Under the server's gate.</summary>
internal sealed class SubscriptionTable
{
    private readonly Dictionary<uint, UaSubscription> _byId = [];
    private readonly List<UaSubscription> _all = [];
    private uint _lastId;

    public List<UaSubscription> All => _all;

    public uint NextId() => _lastId = _lastId == uint.MaxValue ? 1 : _lastId + 1;

    public UaSubscription? Find(uint id) => _byId.GetValueOrDefault(id);

    public UaSubscription? Find(UaSession session, uint id) => _byId.TryGetValue(id, out UaSubscription? found) && ReferenceEquals(found.Session, session) ? found : null;

    public void Add(UaSubscription subscription)
    {
        _byId.Add(subscription.Id, subscription);
        _all.Add(subscription);
    }

    public void Remove(UaSubscription subscription)
    {
        _byId.Remove(subscription.Id);
        _all.Remove(subscription);
    }
}
