using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Sessions;

namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>
/// Sampling and publishing (OPC 10000-4, 5.13.1.2). In each publishing cycle a subscription sends what waits, or a
/// keep-alive when it was silent for long enough; when no Publish request is there it is late and served by the next one,
/// highest priority first. Everything runs on monotonic time. All under the server's gate.
/// </summary>
internal sealed class SubscriptionEngine : IDisposable
{
    private const int IdleMs = 1000;

    private readonly UaServerOptions _options;
    private readonly NodeSpace _space;
    private readonly DiagnosticNodes _nodes;
    private readonly SubscriptionTable _table = new();
    private readonly SampleGroups _groups;
    private readonly SubscriptionService _service;
    private readonly MonitoredItemService _items;
    private readonly PublishWriter _writer;
    private readonly List<UaSubscription> _over = [];

    public SubscriptionEngine(UaServerOptions options, NodeSpace space, DiagnosticNodes nodes)
    {
        (_options, _space, _nodes) = (options, space, nodes);
        _groups = new SampleGroups(options.Operations.SamplingIntervalMinMs);
        _items = new MonitoredItemService(options, space, _groups);
        _service = new SubscriptionService(options, _table, _items, nodes);
        _writer = new PublishWriter(options.Channel.Limits.SendMessageBytesMax);
    }

    public int Count => _table.All.Count;

    /// <summary>Subscriptions made since start.</summary>
    public long CreatedCount => _service.Created;

    /// <summary>All of them. Under the server's gate.</summary>
    public IReadOnlyList<UaSubscription> All => _table.All;

    /// <summary>Samples and publishes what is due; returns when to come again.</summary>
    public long Tick(ChannelClock now)
    {
        long next = _groups.SampleDue(Context(now), now.MonotonicMs);
        foreach (UaSubscription subscription in _table.All)
        {
            TimeOutPublish(subscription.Session, now);
            if (subscription.TakeCycle(now.MonotonicMs))
            {
                Cycle(subscription, now);
            }

            next = Math.Min(next, subscription.NextMs);
        }

        foreach (UaSubscription subscription in _over)
        {
            Expire(subscription, now);
        }

        _over.Clear();
        return Math.Min(next, now.MonotonicMs + IdleMs);
    }

    /// <summary>Values were stored: what is sampled at the fastest rate takes them now.</summary>
    public void SampleFastest(ChannelClock now) => _groups.SampleFastest(Context(now));

    /// <summary>Services that concern subscriptions and items and are answered at once.</summary>
    public IServiceResponse Answer(UaSession session, IServiceRequest request, ChannelClock now)
    {
        switch (request)
        {
            case CreateSubscriptionRequest r:
                return _service.Create(session, r, now);
            case ModifySubscriptionRequest r:
                return _service.Modify(session, r, now);
            case SetPublishingModeRequest r:
                return _service.SetPublishingMode(session, r);
            case RepublishRequest r:
                return _service.Republish(session, r);
            case DeleteSubscriptionsRequest r:
                IServiceResponse deleted = _service.Delete(session, r);
                NoSubscriptionLeft(session, now);
                return deleted;
            case CreateMonitoredItemsRequest or ModifyMonitoredItemsRequest or SetMonitoringModeRequest or SetTriggeringRequest or DeleteMonitoredItemsRequest:
                return AnswerItems(session, request, now);
            default:
                return Fault.Of(StatusCode.BadServiceUnsupported);
        }
    }

    /// <summary>Takes a Publish request; null when it is answered later or was answered already.</summary>
    public IServiceResponse? Publish(UaServerPeer peer, UaSession session, PublishRequest request, uint requestId, ChannelClock now)
    {
        StatusCode[] results = _service.Acknowledge(session, request.SubscriptionAcknowledgements);
        if (session.Subscriptions.Count == 0 && session.Publishing.MessageCount == 0)
        {
            return Fault.Of(StatusCode.BadNoSubscription);
        }

        uint hint = request.RequestHeader.TimeoutHint;
        var publish = new PendingPublish(peer, requestId, request.RequestHeader.RequestHandle, hint == 0 ? long.MaxValue : now.MonotonicMs + hint, results);
        session.Publishing.Add(publish);
        if (session.Publishing.Count > _options.Limits.PublishRequestsPerSessionMax && session.Publishing.TryTakeAny(out PendingPublish oldest))
        {
            _writer.SendFault(oldest, StatusCode.BadTooManyPublishRequests, now);
        }

        session.Subscriptions.ForEach(static s => s.Alive());
        Serve(session, now);
        return null;
    }

    /// <summary>Gives up waiting Publish requests with a handle; returns how many.</summary>
    public uint Cancel(UaSession session, uint requestHandle, ChannelClock now)
    {
        List<PendingPublish> cancelled = session.Publishing.TakeAll(requestHandle);
        foreach (PendingPublish publish in cancelled)
        {
            _writer.SendFault(publish, StatusCode.BadRequestCancelledByClient, now);
        }

        return (uint)cancelled.Count;
    }

    /// <summary>Moves subscriptions to this session.</summary>
    public IServiceResponse Transfer(UaSession session, TransferSubscriptionsRequest request, ChannelClock now)
    {
        var left = new List<UaSession>();
        IServiceResponse response = _service.Transfer(session, request, now, left);
        foreach (UaSession old in left)
        {
            Serve(old, now);
            NoSubscriptionLeft(old, now);
        }

        return response;
    }

    /// <summary>A session is gone: its subscriptions go too, or wait for another session until their lifetime has passed.</summary>
    public void SessionEnded(UaSession session, bool deleteSubscriptions, ChannelClock now)
    {
        while (session.Publishing.TryTakeAny(out PendingPublish publish))
        {
            _writer.SendFault(publish, StatusCode.BadSessionClosed, now);
        }

        foreach (UaSubscription subscription in session.Subscriptions.ToArray())
        {
            if (deleteSubscriptions)
            {
                _service.Remove(subscription);
            }
            else
            {
                _nodes.Move(subscription, null);
                subscription.Session = null;
            }
        }

        session.Subscriptions.Clear();
    }

    /// <summary>The subscription of a session, or null.</summary>
    public UaSubscription? Find(UaSession session, uint id) => _table.Find(session, id);

    /// <summary>Whether there is such a subscription in any session.</summary>
    public bool Exists(uint id) => _table.Find(id) is not null;

    public void Dispose()
    {
        foreach (UaSubscription subscription in _table.All)
        {
            subscription.Dispose();
        }

        _writer.Dispose();
    }

    private SamplingContext Context(ChannelClock now) => new(_space, _options.Operations, now.Utc);

    private IServiceResponse AnswerItems(UaSession session, IServiceRequest request, ChannelClock now) => request switch
    {
        CreateMonitoredItemsRequest r => _items.Create(_table.Find(session, r.SubscriptionId), r, Context(now), now),
        ModifyMonitoredItemsRequest r => _items.Modify(_table.Find(session, r.SubscriptionId), r, now),
        SetMonitoringModeRequest r => _items.SetMode(_table.Find(session, r.SubscriptionId), r, Context(now), now),
        SetTriggeringRequest r => _items.SetTriggering(_table.Find(session, r.SubscriptionId), r),
        _ => _items.Delete(_table.Find(session, ((DeleteMonitoredItemsRequest)request).SubscriptionId), (DeleteMonitoredItemsRequest)request),
    };

    private void Cycle(UaSubscription subscription, ChannelClock now)
    {
        if (subscription.Session is { Publishing.Count: > 0 })
        {
            subscription.Alive();
        }
        else if (++subscription.LifetimeCycles >= subscription.LifetimeCount)
        {
            _over.Add(subscription);
            return;
        }

        bool data = subscription.PublishingEnabled && subscription.Pending > 0;
        subscription.SilentCycles++;
        if (data || !subscription.FirstSent || subscription.SilentCycles >= subscription.KeepAliveCount)
        {
            Send(subscription, now);
        }
    }

    // Sends all that waits, or a keep-alive; without a Publish request the subscription is late.
    private void Send(UaSubscription subscription, ChannelClock now)
    {
        do
        {
            if (subscription.Session is not { } session || !TryTakePublish(session, now, out PendingPublish publish))
            {
                BecomeLate(subscription, now);
                return;
            }

            (subscription.LateSinceMs, subscription.SilentCycles, subscription.FirstSent) = (0, 0, true);
            SubscriptionTally.Count(ref subscription.Tally.Publishes);
            if (subscription.PublishingEnabled && subscription.Pending > 0)
            {
                _writer.SendData(subscription, publish, now);
            }
            else
            {
                SubscriptionTally.Count(ref subscription.Tally.KeepAlives);
                _writer.SendKeepAlive(subscription, publish, now);
            }
        }
        while (subscription.PublishingEnabled && subscription.Pending > 0);
    }

    private static void BecomeLate(UaSubscription subscription, ChannelClock now)
    {
        if (subscription.LateSinceMs == 0)
        {
            subscription.LateSinceMs = Math.Max(1, now.MonotonicMs);
            SubscriptionTally.Count(ref subscription.Tally.Late);
        }
    }

    // Gives waiting Publish requests to what waits for them: ends of subscriptions first, then late subscriptions.
    private void Serve(UaSession session, ChannelClock now)
    {
        while (session.Publishing.MessageCount > 0 && TryTakePublish(session, now, out PendingPublish publish))
        {
            session.Publishing.TryTakeMessage(out StatusMessage message);
            _writer.SendStatus(message, publish, now);
        }

        while (session.Publishing.Count > 0 && Latest(session) is { } late)
        {
            Send(late, now);
        }
    }

    private static UaSubscription? Latest(UaSession session)
    {
        UaSubscription? first = null;
        foreach (UaSubscription subscription in session.Subscriptions)
        {
            bool late = subscription.LateSinceMs != 0;
            if (late && (first is null || subscription.Priority > first.Priority || (subscription.Priority == first.Priority && subscription.LateSinceMs < first.LateSinceMs)))
            {
                first = subscription;
            }
        }

        return first;
    }

    private void Expire(UaSubscription subscription, ChannelClock now)
    {
        _options.Log?.Note($"subscription {subscription.Id} of {subscription.OwnerUri} ended: no Publish request for {subscription.LifetimeCount} cycles");
        UaSession? session = subscription.Session;
        session?.Publishing.AddMessage(new StatusMessage(subscription.Id, subscription.NextSequenceNumber, StatusCode.BadTimeout), (int)_options.Operations.SubscriptionsPerSession);
        _service.Remove(subscription);
        if (session is not null)
        {
            Serve(session, now);
            NoSubscriptionLeft(session, now);
        }
    }

    private void NoSubscriptionLeft(UaSession session, ChannelClock now)
    {
        if (session.Subscriptions.Count > 0)
        {
            return;
        }

        while (session.Publishing.TryTakeAny(out PendingPublish publish))
        {
            _writer.SendFault(publish, StatusCode.BadNoSubscription, now);
        }
    }

    // Requests whose time is over are answered, never just forgotten: the client counts on an answer to each.
    private bool TryTakePublish(UaSession session, ChannelClock now, out PendingPublish publish)
    {
        TimeOutPublish(session, now);
        return session.Publishing.TryTakeAny(out publish);
    }

    private void TimeOutPublish(UaSession? session, ChannelClock now)
    {
        if (session is null || !session.Publishing.HasOver(now.MonotonicMs))
        {
            return;
        }

        foreach (PendingPublish publish in session.Publishing.TakeAllOver(now.MonotonicMs))
        {
            _writer.SendFault(publish, StatusCode.BadTimeout, now);
        }
    }
}
