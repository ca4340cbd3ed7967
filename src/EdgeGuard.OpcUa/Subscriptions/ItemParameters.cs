using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Server;
using Range = EdgeGuard.OpcUa.Messages.Range;

namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>Checks what is to be monitored and revises how (OPC 10000-4, 7.21 and 7.22.2).</summary>
internal sealed class ItemParameters(UaServerOptions options, NodeSpace space)
{
    private const uint DeadbandNone = 0;
    private const uint DeadbandAbsolute = 1;
    private const uint DeadbandPercent = 2;
    private const double PercentMax = 100;
    private const string RangeName = "EURange";

    /// <summary>Checks node, attribute, index range and encoding by reading once; quality of the value is no reason to refuse.</summary>
    public StatusCode TryTarget(ReadValueId target, CallerContext caller, in SamplingContext context, out VariableNode? stored)
    {
        stored = null;
        if (target.AttributeId == (uint)AttributeId.EventNotifier)
        {
            return StatusCode.BadMonitoredItemFilterUnsupported;
        }

        DataValue value = context.Read(target, caller);
        if (IsRefusal(value.Status))
        {
            return value.Status;
        }

        bool plain = target.AttributeId == (uint)AttributeId.Value && string.IsNullOrEmpty(target.IndexRange) && target.DataEncoding.IsNull;
        if (plain && space.Find(target.NodeId) is VariableNode { Provider: null } variable)
        {
            stored = variable;
        }

        return StatusCode.Good;
    }

    /// <summary>Revises sampling and queue, reads the filter.</summary>
    public StatusCode TryRead(UaSubscription subscription, ReadValueId target, MonitoringParameters parameters, int queueRoom, out ItemSettings settings)
    {
        StatusCode status = TryFilter(target, parameters.Filter, out ChangeFilter filter, out DataChangeFilter? clientFilter);
        long queue = Math.Min(Math.Max(1, parameters.QueueSize), options.Operations.MonitoredItemQueueSize);
        settings = new ItemSettings(Sampling(subscription, parameters.SamplingInterval), (int)Math.Clamp(queue, 1, Math.Max(1, queueRoom)), filter, clientFilter);
        return status;
    }

    private static bool IsRefusal(StatusCode status) => status.Code() is StatusCode.BadNodeIdUnknown or StatusCode.BadNodeIdInvalid or StatusCode.BadAttributeIdInvalid
        or StatusCode.BadIndexRangeInvalid or StatusCode.BadDataEncodingInvalid or StatusCode.BadDataEncodingUnsupported or StatusCode.BadNotReadable or StatusCode.BadUserAccessDenied;

    // Negative: as often as published. 0: as fast as there is. Attributes other than the value never change here.
    private double Sampling(UaSubscription subscription, double asked)
    {
        double wanted = asked < 0 ? subscription.IntervalMs : asked > 0 ? asked : 0;
        return Math.Clamp(wanted, options.Operations.SamplingIntervalMinMs, options.Limits.SamplingIntervalMsMax);
    }

    private StatusCode TryFilter(ReadValueId target, ExtensionObject? given, out ChangeFilter filter, out DataChangeFilter? clientFilter)
    {
        (filter, clientFilter) = (ChangeFilter.Default, null);
        if (given is null || given.TypeId.IsNull)
        {
            return StatusCode.Good;
        }

        if (!given.Is<DataChangeFilter>())
        {
            return given.Is<EventFilter>() ? StatusCode.BadFilterNotAllowed : StatusCode.BadMonitoredItemFilterUnsupported;
        }

        if (target.AttributeId != (uint)AttributeId.Value)
        {
            return StatusCode.BadFilterNotAllowed;
        }

        if (given.TryDecode(UaLimits.Default, out clientFilter) != StatusCode.Good || clientFilter!.Trigger is < DataChangeTrigger.Status or > DataChangeTrigger.StatusValueTimestamp)
        {
            return StatusCode.BadMonitoredItemFilterInvalid;
        }

        StatusCode status = TryWidth(target, clientFilter, out double width);
        filter = new ChangeFilter(clientFilter.Trigger, width);
        return status;
    }

    private StatusCode TryWidth(ReadValueId target, DataChangeFilter filter, out double width)
    {
        width = 0;
        if (filter.DeadbandType == DeadbandNone)
        {
            return StatusCode.Good;
        }

        if (space.Find(target.NodeId) is not VariableNode variable || !IsNumeric(variable.DataType))
        {
            return StatusCode.BadFilterNotAllowed;
        }

        double value = filter.DeadbandValue;
        switch (filter.DeadbandType)
        {
            case DeadbandAbsolute when value >= 0 && double.IsFinite(value):
                width = value;
                return StatusCode.Good;
            case DeadbandPercent when value is >= 0 and <= PercentMax:
                bool known = TryRange(variable, out Range range);
                width = known ? value / PercentMax * (range.High - range.Low) : 0;
                return known ? StatusCode.Good : StatusCode.BadMonitoredItemFilterUnsupported;
            default:
                return StatusCode.BadDeadbandFilterInvalid;
        }
    }

    private bool IsNumeric(NodeId dataType)
    {
        for (Node? type = space.Find(dataType); type is not null; type = (type as TypeNode)?.SuperType)
        {
            // SByte to Double, and the abstract Number above them.
            if (type.NodeId is { NamespaceIndex: 0, Number: (>= 2 and <= 11) or 26 })
            {
                return true;
            }
        }

        return false;
    }

    private static bool TryRange(VariableNode variable, out Range range)
    {
        range = default;
        foreach (Reference reference in variable.References)
        {
            if (reference.IsForward && reference.Target is VariableNode property && property.BrowseName is { NamespaceIndex: 0, Name: RangeName })
            {
                property.Sample(out DataValue value);
                return value.Value.AsExtensionObject?.TryDecode(UaLimits.Default, out range) == StatusCode.Good;
            }
        }

        return false;
    }
}
