using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Sessions;

namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>The MonitoredItem services (OPC 10000-4, 5.12). What an item asks for is revised where it can be and refused where it makes no sense. Under the server's gate.</summary>
internal sealed class MonitoredItemService(UaServerOptions options, NodeSpace space, SampleGroups groups)
{
    private readonly ItemParameters _parameters = new(options, space);
    private uint _lastId;
    private int _count;
    private int _queuedValues;

    public IServiceResponse Create(UaSubscription? subscription, CreateMonitoredItemsRequest request, in SamplingContext context, ChannelClock now)
    {
        StatusCode status = Judge(subscription, request.ItemsToCreate?.Length, request.TimestampsToReturn);
        if (status != StatusCode.Good)
        {
            return Fault.Of(status);
        }

        var results = new MonitoredItemCreateResult[request.ItemsToCreate!.Length];
        for (int i = 0; i < results.Length; i++)
        {
            results[i] = Create(subscription!, request.ItemsToCreate[i], request.TimestampsToReturn, context, now);
        }

        return new CreateMonitoredItemsResponse { Results = results, DiagnosticInfos = [] };
    }

    public IServiceResponse Modify(UaSubscription? subscription, ModifyMonitoredItemsRequest request, ChannelClock now)
    {
        StatusCode status = Judge(subscription, request.ItemsToModify?.Length, request.TimestampsToReturn);
        if (status != StatusCode.Good)
        {
            return Fault.Of(status);
        }

        var results = new MonitoredItemModifyResult[request.ItemsToModify!.Length];
        for (int i = 0; i < results.Length; i++)
        {
            results[i] = Modify(subscription!, request.ItemsToModify[i], request.TimestampsToReturn, now);
        }

        return new ModifyMonitoredItemsResponse { Results = results, DiagnosticInfos = [] };
    }

    public IServiceResponse SetMode(UaSubscription? subscription, SetMonitoringModeRequest request, in SamplingContext context, ChannelClock now)
    {
        StatusCode status = Judge(subscription, request.MonitoredItemIds?.Length, TimestampsToReturn.Both);
        status = status == StatusCode.Good && !IsMode(request.MonitoringMode) ? StatusCode.BadMonitoringModeInvalid : status;
        if (status != StatusCode.Good)
        {
            return Fault.Of(status);
        }

        var results = new StatusCode[request.MonitoredItemIds!.Length];
        for (int i = 0; i < results.Length; i++)
        {
            bool known = subscription!.Items.TryGetValue(request.MonitoredItemIds[i], out MonitoredItem? item);
            results[i] = known ? StatusCode.Good : StatusCode.BadMonitoredItemIdInvalid;
            if (known)
            {
                SetMode(item!, request.MonitoringMode, context, now);
            }
        }

        return new SetMonitoringModeResponse { Results = results, DiagnosticInfos = [] };
    }

    public IServiceResponse SetTriggering(UaSubscription? subscription, SetTriggeringRequest request)
    {
        int count = (request.LinksToAdd?.Length ?? 0) + (request.LinksToRemove?.Length ?? 0);
        StatusCode status = Judge(subscription, count, TimestampsToReturn.Both);
        MonitoredItem? item = null;
        if (status == StatusCode.Good && !subscription!.Items.TryGetValue(request.TriggeringItemId, out item))
        {
            status = StatusCode.BadMonitoredItemIdInvalid;
        }

        // Links are removed before others are added (OPC 10000-4, 5.12.5).
        return status != StatusCode.Good
            ? Fault.Of(status)
            : new SetTriggeringResponse
            {
                RemoveResults = TriggerLinks.Remove(item!, request.LinksToRemove),
                RemoveDiagnosticInfos = [],
                AddResults = TriggerLinks.Add(item!, request.LinksToAdd, options.Limits.TriggerLinksMax),
                AddDiagnosticInfos = [],
            };
    }

    public IServiceResponse Delete(UaSubscription? subscription, DeleteMonitoredItemsRequest request)
    {
        StatusCode status = Judge(subscription, request.MonitoredItemIds?.Length, TimestampsToReturn.Both);
        if (status != StatusCode.Good)
        {
            return Fault.Of(status);
        }

        var results = new StatusCode[request.MonitoredItemIds!.Length];
        bool any = false;
        for (int i = 0; i < results.Length; i++)
        {
            bool known = subscription!.Items.Remove(request.MonitoredItemIds[i], out MonitoredItem? item);
            results[i] = known ? StatusCode.Good : StatusCode.BadMonitoredItemIdInvalid;
            any |= known;
            if (known)
            {
                Remove(item!);
            }
        }

        if (any)
        {
            Tidy(subscription!);
        }

        return new DeleteMonitoredItemsResponse { Results = results, DiagnosticInfos = [] };
    }

    /// <summary>The subscription is deleted.</summary>
    public void RemoveAll(UaSubscription subscription)
    {
        foreach (MonitoredItem item in subscription.Order)
        {
            Remove(item);
        }

        subscription.Items.Clear();
        subscription.Order.Clear();
    }

    /// <summary>The subscription went over to another session, and its share of the quotas with it.</summary>
    public static void Moved(UaSubscription subscription, UaSession? from, UaSession to)
    {
        int values = subscription.Order.Sum(static item => item.Queue.Size);
        if (from is not null)
        {
            from.ItemCount -= subscription.Order.Count;
            from.QueuedValues -= values;
        }

        to.ItemCount += subscription.Order.Count;
        to.QueuedValues += values;
    }

    private StatusCode Judge(UaSubscription? subscription, int? operations, TimestampsToReturn timestamps)
    {
        if (subscription is null)
        {
            return StatusCode.BadSubscriptionIdInvalid;
        }

        subscription.Alive();
        StatusCode status = OperationLimits.Judge(operations, options.Operations.MonitoredItemsPerCall);
        return status == StatusCode.Good && timestamps is < TimestampsToReturn.Source or > TimestampsToReturn.Neither ? StatusCode.BadTimestampsToReturnInvalid : status;
    }

    private MonitoredItemCreateResult Create(UaSubscription subscription, MonitoredItemCreateRequest request, TimestampsToReturn timestamps, in SamplingContext context, ChannelClock now)
    {
        StatusCode status = IsMode(request.MonitoringMode) ? JudgeQuota(subscription) : StatusCode.BadMonitoringModeInvalid;
        VariableNode? stored = null;
        status = status == StatusCode.Good ? _parameters.TryTarget(request.ItemToMonitor, subscription.Caller, context, out stored) : status;
        ItemSettings settings = default;
        status = status == StatusCode.Good ? _parameters.TryRead(subscription, request.ItemToMonitor, request.RequestedParameters, RoomFor(subscription, 0), out settings) : status;
        if (status != StatusCode.Good)
        {
            return new MonitoredItemCreateResult { StatusCode = status };
        }

        var item = new MonitoredItem
        {
            Id = ++_lastId,
            Subscription = subscription,
            Target = request.ItemToMonitor,
            Stored = stored,
            ClientHandle = request.RequestedParameters.ClientHandle,
            Timestamps = timestamps,
            Filter = settings.Filter,
            ClientFilter = settings.ClientFilter,
            SamplingMs = settings.SamplingMs,
            Queue = new ValueQueue(settings.QueueSize, request.RequestedParameters.DiscardOldest),
        };
        Add(item);
        SetMode(item, request.MonitoringMode, context, now);
        return new MonitoredItemCreateResult { MonitoredItemId = item.Id, RevisedSamplingInterval = item.SamplingMs, RevisedQueueSize = (uint)settings.QueueSize };
    }

    private MonitoredItemModifyResult Modify(UaSubscription subscription, MonitoredItemModifyRequest request, TimestampsToReturn timestamps, ChannelClock now)
    {
        if (!subscription.Items.TryGetValue(request.MonitoredItemId, out MonitoredItem? item))
        {
            return new MonitoredItemModifyResult { StatusCode = StatusCode.BadMonitoredItemIdInvalid };
        }

        StatusCode status = _parameters.TryRead(subscription, item.Target, request.RequestedParameters, RoomFor(subscription, item.Queue.Size), out ItemSettings settings);
        if (status != StatusCode.Good)
        {
            return new MonitoredItemModifyResult { StatusCode = status };
        }

        (item.ClientHandle, item.Timestamps, item.Filter, item.ClientFilter) = (request.RequestedParameters.ClientHandle, timestamps, settings.Filter, settings.ClientFilter);
        if (settings.QueueSize != item.Queue.Size || request.RequestedParameters.DiscardOldest != item.Queue.DiscardOldest)
        {
            CountValues(subscription.Session, settings.QueueSize - item.Queue.Size);
            item.SetQueue(new ValueQueue(settings.QueueSize, request.RequestedParameters.DiscardOldest));
        }

        if (settings.SamplingMs != item.SamplingMs)
        {
            bool sampled = item.Group is not null;
            groups.Remove(item);
            item.SamplingMs = settings.SamplingMs;
            if (sampled)
            {
                groups.Add(item, now.MonotonicMs);
            }
        }

        return new MonitoredItemModifyResult { RevisedSamplingInterval = item.SamplingMs, RevisedQueueSize = (uint)settings.QueueSize };
    }

    // A disabled item forgets; one that begins to sample takes its first value at once.
    private void SetMode(MonitoredItem item, MonitoringMode mode, in SamplingContext context, ChannelClock now)
    {
        bool wasDisabled = item.Mode == MonitoringMode.Disabled;
        item.SetMode(mode);
        if (mode == MonitoringMode.Disabled)
        {
            groups.Remove(item);
        }
        else if (wasDisabled)
        {
            groups.Add(item, now.MonotonicMs);
            item.Sample(context);
        }
    }

    private StatusCode JudgeQuota(UaSubscription subscription)
    {
        bool full = _count >= options.Operations.MonitoredItems || subscription.Order.Count >= options.Operations.MonitoredItemsPerSubscription
            || (subscription.Session?.ItemCount ?? 0) >= options.Limits.ItemsPerSessionMax || RoomFor(subscription, 0) < 1;
        return full ? StatusCode.BadTooManyMonitoredItems : StatusCode.Good;
    }

    private int RoomFor(UaSubscription subscription, int own) => own + Math.Min(
        options.Limits.QueuedValuesPerSessionMax - (subscription.Session?.QueuedValues ?? 0),
        options.Limits.QueuedValuesMax - _queuedValues);

    private void Add(MonitoredItem item)
    {
        UaSubscription subscription = item.Subscription;
        subscription.Items.Add(item.Id, item);
        subscription.Order.Add(item);
        subscription.DisabledItems += item.Mode == MonitoringMode.Disabled ? 1 : 0;
        _count++;
        if (subscription.Session is { } session)
        {
            session.ItemCount++;
        }

        CountValues(subscription.Session, item.Queue.Size);
    }

    private void Remove(MonitoredItem item)
    {
        groups.Remove(item);
        item.Drop();
        item.Subscription.DisabledItems -= item.Mode == MonitoringMode.Disabled ? 1 : 0;
        _count--;
        if (item.Subscription.Session is { } session)
        {
            session.ItemCount--;
        }

        CountValues(item.Subscription.Session, -item.Queue.Size);
    }

    private void CountValues(UaSession? session, int values)
    {
        _queuedValues += values;
        if (session is not null)
        {
            session.QueuedValues += values;
        }
    }

    // Takes deleted items out of the order and out of the links of others.
    private static void Tidy(UaSubscription subscription)
    {
        subscription.Order.RemoveAll(static item => item.IsDeleted);
        subscription.Cursor = 0;
        foreach (MonitoredItem item in subscription.Order)
        {
            item.Links?.RemoveAll(static linked => linked.IsDeleted);
        }
    }

    private static bool IsMode(MonitoringMode mode) => mode is >= MonitoringMode.Disabled and <= MonitoringMode.Reporting;
}
