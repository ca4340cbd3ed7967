using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Sessions;

namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>The Subscription services apart from Publish (OPC 10000-4, 5.13): intervals and counts are revised, never refused. Under the server's gate.</summary>
internal sealed class SubscriptionService(UaServerOptions options, SubscriptionTable table, MonitoredItemService items, DiagnosticNodes nodes)
{
    private const uint KeepAliveCountDefault = 10;

    /// <summary>Subscriptions made since start.</summary>
    public long Created { get; private set; }

    public IServiceResponse Create(UaSession session, CreateSubscriptionRequest request, ChannelClock now)
    {
        if (session.Subscriptions.Count >= options.Operations.SubscriptionsPerSession || table.All.Count >= options.Operations.Subscriptions)
        {
            return Fault.Of(StatusCode.BadTooManySubscriptions);
        }

        var subscription = new UaSubscription(options.Limits)
        {
            Id = table.NextId(),
            Session = session,
            Owner = session.Identity,
            OwnerUri = session.ClientUri,
            OwnerSigned = session.Policy.IsSecure,
            Caller = session.Caller,
            PublishingEnabled = request.PublishingEnabled,
        };
        Revise(subscription, request.RequestedPublishingInterval, request.RequestedLifetimeCount, request.RequestedMaxKeepAliveCount, request.MaxNotificationsPerPublish, request.Priority);
        subscription.Schedule(now.MonotonicMs);
        table.Add(subscription);
        session.Subscriptions.Add(subscription);
        nodes.Add(subscription);
        Created++;
        return new CreateSubscriptionResponse
        {
            SubscriptionId = subscription.Id,
            RevisedPublishingInterval = subscription.IntervalMs,
            RevisedLifetimeCount = subscription.LifetimeCount,
            RevisedMaxKeepAliveCount = subscription.KeepAliveCount,
        };
    }

    public IServiceResponse Modify(UaSession session, ModifySubscriptionRequest request, ChannelClock now)
    {
        if (table.Find(session, request.SubscriptionId) is not { } subscription)
        {
            return Fault.Of(StatusCode.BadSubscriptionIdInvalid);
        }

        double before = subscription.IntervalMs;
        Revise(subscription, request.RequestedPublishingInterval, request.RequestedLifetimeCount, request.RequestedMaxKeepAliveCount, request.MaxNotificationsPerPublish, request.Priority);
        subscription.Alive();
        SubscriptionTally.Count(ref subscription.Tally.Modified);
        if (subscription.IntervalMs != before)
        {
            subscription.Schedule(now.MonotonicMs);
        }

        return new ModifySubscriptionResponse
        {
            RevisedPublishingInterval = subscription.IntervalMs,
            RevisedLifetimeCount = subscription.LifetimeCount,
            RevisedMaxKeepAliveCount = subscription.KeepAliveCount,
        };
    }

    public IServiceResponse SetPublishingMode(UaSession session, SetPublishingModeRequest request)
    {
        StatusCode status = Judge(request.SubscriptionIds);
        if (status != StatusCode.Good)
        {
            return Fault.Of(status);
        }

        StatusCode[] results = ForEach(session, request.SubscriptionIds!, s => Enable(s, request.PublishingEnabled));
        return new SetPublishingModeResponse { Results = results, DiagnosticInfos = [] };
    }

    public IServiceResponse Delete(UaSession session, DeleteSubscriptionsRequest request)
    {
        StatusCode status = Judge(request.SubscriptionIds);
        return status != StatusCode.Good
            ? Fault.Of(status)
            : new DeleteSubscriptionsResponse { Results = ForEach(session, request.SubscriptionIds!, Remove), DiagnosticInfos = [] };
    }

    public IServiceResponse Republish(UaSession session, RepublishRequest request)
    {
        if (table.Find(session, request.SubscriptionId) is not { } subscription)
        {
            return Fault.Of(StatusCode.BadSubscriptionIdInvalid);
        }

        subscription.Alive();
        SubscriptionTally.Count(ref subscription.Tally.RepublishRequests);
        if (!subscription.Sent.TryFind(request.RetransmitSequenceNumber, out ReadOnlySpan<byte> bytes))
        {
            return Fault.Of(StatusCode.BadMessageNotAvailable);
        }

        SubscriptionTally.Count(ref subscription.Tally.Republished);

        // The bytes are our own; they are decoded without limits of a client and written again unchanged.
        var reader = new UaReader(bytes, OwnMessages);
        return new RepublishResponse { NotificationMessage = NotificationMessage.Read(ref reader) };
    }

    public IServiceResponse Transfer(UaSession session, TransferSubscriptionsRequest request, ChannelClock now, List<UaSession> left)
    {
        StatusCode status = Judge(request.SubscriptionIds);
        if (status != StatusCode.Good)
        {
            return Fault.Of(status);
        }

        var results = new TransferResult[request.SubscriptionIds!.Length];
        for (int i = 0; i < results.Length; i++)
        {
            results[i] = Transfer(session, request.SubscriptionIds[i], request.SendInitialValues, now, left);
        }

        return new TransferSubscriptionsResponse { Results = results, DiagnosticInfos = [] };
    }

    public StatusCode[] Acknowledge(UaSession session, SubscriptionAcknowledgement[]? acknowledgements)
    {
        if (acknowledgements is not { Length: > 0 })
        {
            return [];
        }

        var results = new StatusCode[acknowledgements.Length];
        for (int i = 0; i < results.Length; i++)
        {
            UaSubscription? subscription = table.Find(session, acknowledgements[i].SubscriptionId);
            results[i] = subscription is null ? StatusCode.BadSubscriptionIdInvalid
                : subscription.Sent.Acknowledge(acknowledgements[i].SequenceNumber) ? StatusCode.Good : StatusCode.BadSequenceNumberUnknown;
        }

        return results;
    }

    /// <summary>Deletes with all items.</summary>
    public void Remove(UaSubscription subscription)
    {
        items.RemoveAll(subscription);
        table.Remove(subscription);
        nodes.Remove(subscription);
        subscription.Session?.Subscriptions.Remove(subscription);
        subscription.Session = null;
        subscription.Dispose();
    }

    private static readonly UaLimits OwnMessages = new() { ArrayLengthMax = int.MaxValue, StringBytesMax = int.MaxValue, ByteStringBytesMax = int.MaxValue, DecodedBytesMax = long.MaxValue };

    private StatusCode Judge(uint[]? ids) => AddressSpace.OperationLimits.Judge(ids?.Length, options.Operations.MonitoredItemsPerCall);

    private StatusCode[] ForEach(UaSession session, uint[] ids, Action<UaSubscription> act)
    {
        var results = new StatusCode[ids.Length];
        for (int i = 0; i < ids.Length; i++)
        {
            UaSubscription? subscription = table.Find(session, ids[i]);
            results[i] = subscription is null ? StatusCode.BadSubscriptionIdInvalid : StatusCode.Good;
            if (subscription is not null)
            {
                subscription.Alive();
                act(subscription);
            }
        }

        return results;
    }

    private static void Enable(UaSubscription subscription, bool enabled)
    {
        subscription.PublishingEnabled = enabled;
        SubscriptionTally.Count(ref enabled ? ref subscription.Tally.Enabled : ref subscription.Tally.Disabled);
    }

    // The same user takes a subscription over. One without a name has to be the same application, and only a signed
    // channel proves which application that is (OPC 10000-4, 5.14.7).
    private static bool IsOwner(UaSubscription subscription, UaSession session) =>
        subscription.Owner == session.Identity
        && (session.Identity.Kind != UserTokenType.Anonymous
            || (subscription.OwnerSigned && session.Policy.IsSecure && string.Equals(subscription.OwnerUri, session.ClientUri, StringComparison.Ordinal)));

    private TransferResult Transfer(UaSession session, uint id, bool sendInitialValues, ChannelClock now, List<UaSession> left)
    {
        StatusCode status;
        UaSubscription? subscription = table.Find(id);
        if (subscription is null)
        {
            return new TransferResult { StatusCode = StatusCode.BadSubscriptionIdInvalid };
        }

        SubscriptionTally.Count(ref subscription.Tally.TransferRequests);
        status = Judge(subscription, session);
        if (status != StatusCode.Good)
        {
            return new TransferResult { StatusCode = status };
        }

        Move(subscription, session, left);
        subscription.Alive();
        if (sendInitialValues)
        {
            subscription.Order.ForEach(item => item.Resend(now.Utc));
        }

        return new TransferResult { AvailableSequenceNumbers = subscription.Sent.Numbers() };
    }

    private StatusCode Judge(UaSubscription subscription, UaSession session) =>
        ReferenceEquals(subscription.Session, session) ? StatusCode.BadNothingToDo
        : !IsOwner(subscription, session) ? StatusCode.BadUserAccessDenied
        : session.Subscriptions.Count >= options.Operations.SubscriptionsPerSession ? StatusCode.BadTooManySubscriptions
        : StatusCode.Good;

    private void Move(UaSubscription subscription, UaSession session, List<UaSession> left)
    {
        if (subscription.Session is { } old)
        {
            old.Subscriptions.Remove(subscription);
            old.Publishing.AddMessage(new StatusMessage(subscription.Id, subscription.NextSequenceNumber, StatusCode.GoodSubscriptionTransferred), (int)options.Operations.SubscriptionsPerSession);
            MonitoredItemService.Moved(subscription, old, session);
            left.Add(old);
        }
        else
        {
            MonitoredItemService.Moved(subscription, null, session);
        }

        nodes.Move(subscription, session);

        bool sameClient = string.Equals(subscription.OwnerUri, session.ClientUri, StringComparison.Ordinal);
        SubscriptionTally.Count(ref sameClient ? ref subscription.Tally.TransferredToSameClient : ref subscription.Tally.TransferredToOtherClient);
        (subscription.Session, subscription.Caller, subscription.OwnerUri, subscription.OwnerSigned) = (session, session.Caller, session.ClientUri, session.Policy.IsSecure);
        session.Subscriptions.Add(subscription);
    }

    private void Revise(UaSubscription subscription, double intervalMs, uint lifetimeCount, uint keepAliveCount, uint notificationsMax, byte priority)
    {
        ServerLimits limits = options.Limits;
        subscription.IntervalMs = intervalMs > 0 ? Math.Clamp(intervalMs, limits.PublishingIntervalMsMin, limits.PublishingIntervalMsMax) : limits.PublishingIntervalMsMin;
        subscription.KeepAliveCount = keepAliveCount == 0 ? KeepAliveCountDefault : Math.Min(keepAliveCount, limits.KeepAliveCountMax);

        // At least three keep-alives (OPC 10000-4, 5.13.2.2).
        subscription.LifetimeCount = Math.Clamp(lifetimeCount, 3 * subscription.KeepAliveCount, 3 * limits.KeepAliveCountMax);
        uint bound = (uint)limits.NotificationsPerPublishMax;
        subscription.NotificationsMax = notificationsMax == 0 ? bound : Math.Min(notificationsMax, bound);
        subscription.Priority = priority;
    }
}
