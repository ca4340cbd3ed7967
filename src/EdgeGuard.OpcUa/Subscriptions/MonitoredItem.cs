using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>
/// One monitored item. A stored value is sampled by its version, so that a value that did not change costs one load; the
/// rest (providers, other attributes, ranges of arrays) is read like a client would read it. Under the server's gate.
/// </summary>
internal sealed class MonitoredItem
{
    private long _version = -1;
    private DataValue _last;
    private bool _hasLast;

    public required uint Id { get; init; }

    public required UaSubscription Subscription { get; init; }

    public required ReadValueId Target { get; init; }

    /// <summary>The variable when its stored value is sampled by version; null for everything else.</summary>
    public required VariableNode? Stored { get; init; }

    public required uint ClientHandle { get; set; }

    public required TimestampsToReturn Timestamps { get; set; }

    public required ChangeFilter Filter { get; set; }

    public required double SamplingMs { get; set; }

    public required ValueQueue Queue { get; set; }

    public MonitoringMode Mode { get; private set; }

    /// <summary>Group by which it is sampled; null while disabled.</summary>
    public SampleGroup? Group { get; set; }

    /// <summary>Items whose samples are told when this one changes; null for none.</summary>
    public List<MonitoredItem>? Links { get; set; }

    /// <summary>Whether its queue is to be told although it only samples.</summary>
    public bool IsTriggered { get; private set; }

    public bool IsReportable => Mode == MonitoringMode.Reporting || IsTriggered;

    public bool IsDeleted { get; set; }

    /// <summary>The filter as the client gave it, or null.</summary>
    public DataChangeFilter? ClientFilter { get; set; }

    /// <summary>Takes the current value if it changed. Returns whether a value was queued.</summary>
    public bool Sample(in SamplingContext context)
    {
        DataValue value;
        if (Stored is { } stored)
        {
            if (stored.Version == _version)
            {
                return false;
            }

            _version = stored.Sample(out value);
            value = MayRead(stored) ? context.Stamp(value) : context.Read(Target, Subscription.Caller);
        }
        else
        {
            value = context.Read(Target, Subscription.Caller);
        }

        if (_hasLast && !Filter.IsChange(_last, value))
        {
            return false;
        }

        (_last, _hasLast) = (value, true);
        Enqueue(value);
        return true;
    }

    /// <summary>Queues the last value again, for ResendData and transfers.</summary>
    public void Resend(UaDateTime now)
    {
        if (Mode == MonitoringMode.Reporting && Queue.Count == 0 && _hasLast)
        {
            Enqueue(_last with { ServerTimestamp = now });
        }
    }

    public void SetMode(MonitoringMode mode)
    {
        int before = Reportable();
        if (mode == MonitoringMode.Disabled)
        {
            Queue.Clear();
            (_version, _hasLast, IsTriggered) = (-1, false, false);
        }

        Subscription.DisabledItems += (mode == MonitoringMode.Disabled ? 1 : 0) - (Mode == MonitoringMode.Disabled ? 1 : 0);
        Mode = mode;
        Subscription.Pending += Reportable() - before;
    }

    public void SetQueue(ValueQueue queue)
    {
        int before = Reportable();
        queue.TakeOver(Queue);
        Queue = queue;
        CountOverflows(0);
        Subscription.Pending += Reportable() - before;
    }

    /// <summary>
    /// Another user samples from now on (OPC 10000-4, 5.6.3): what the former one may have seen alone waits no longer, and
    /// the next sample is taken with the new rights. Returns whether the item may no longer tell what it told.
    /// </summary>
    public bool ChangeUser()
    {
        // Of what is read through a provider each reader may see something else; it is just read again.
        bool keeps = Stored is { } stored && MayRead(stored);
        if (!keeps)
        {
            int before = Reportable();
            Queue.Clear();
            IsTriggered = false;
            ForgetLast();
            Subscription.Pending += Reportable() - before;
        }

        return !keeps;
    }

    /// <summary>Makes the next sample a change whatever it is; for a filter that was changed.</summary>
    public void ForgetLast() => (_version, _hasLast) = (-1, false);

    public void Trigger()
    {
        if (Mode == MonitoringMode.Sampling && !IsTriggered && Queue.Count > 0)
        {
            IsTriggered = true;
            Subscription.Pending += Queue.Count;
        }
    }

    /// <summary>Takes away the value that was just told.</summary>
    public void RemoveOldest()
    {
        Queue.RemoveOldest();
        Subscription.Pending--;
        IsTriggered &= Queue.Count > 0;
    }

    /// <summary>Takes away everything, when the item is deleted.</summary>
    public void Drop()
    {
        Subscription.Pending -= Reportable();
        Queue.Clear();
        (IsDeleted, IsTriggered) = (true, false);
    }

    private void Enqueue(in DataValue value)
    {
        int before = Queue.Count;
        long overflows = Queue.Overflows;
        Queue.Add(Stamped(value));
        CountOverflows(overflows);
        if (IsReportable)
        {
            Subscription.Pending += Queue.Count - before;
        }
    }

    // Of the subscription, which remembers them when the item or its queue is gone.
    private void CountOverflows(long before)
    {
        if (Queue.Overflows != before)
        {
            SubscriptionTally.Count(ref Subscription.Tally.QueueOverflows, unchecked((uint)(Queue.Overflows - before)));
        }
    }

    // Only the timestamps asked for.
    private DataValue Stamped(in DataValue value) => Timestamps switch
    {
        TimestampsToReturn.Source => value with { ServerTimestamp = default },
        TimestampsToReturn.Server => value with { SourceTimestamp = default },
        TimestampsToReturn.Neither => value with { SourceTimestamp = default, ServerTimestamp = default },
        _ => value,
    };

    private bool MayRead(VariableNode stored) => (stored.UserAccessLevel(Subscription.Caller) & AccessLevels.CurrentRead) != AccessLevels.None;

    private int Reportable() => IsReportable ? Queue.Count : 0;
}
