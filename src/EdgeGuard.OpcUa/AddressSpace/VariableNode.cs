using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>
/// A variable. Its value is either stored here (<see cref="Set(in DataValue)"/>, <see cref="Sample"/>) or made by a
/// <see cref="Provider"/> when it is read. <see cref="Version"/> moves with every stored value, so that sampling can
/// skip what did not change.
/// </summary>
public sealed class VariableNode : Node
{
    private ValueSlot _slot;

    /// <summary>A variable without a value.</summary>
    public VariableNode(NodeId nodeId, QualifiedName browseName, LocalizedText displayName)
        : base(nodeId, browseName, displayName)
    {
    }

    /// <inheritdoc/>
    public override NodeClass NodeClass => NodeClass.Variable;

    /// <summary>NodeId of the data type.</summary>
    public NodeId DataType { get; init; }

    /// <summary>-1 scalar, 1 one dimension, and so on.</summary>
    public int ValueRank { get; init; } = -1;

    /// <summary>Longest length of each dimension, or null.</summary>
    public uint[]? ArrayDimensions { get; init; }

    /// <summary>What the variable allows.</summary>
    public AccessLevels AccessLevel { get; set; } = AccessLevels.CurrentRead;

    /// <summary>Shortest sampling interval in milliseconds that makes sense; 0 by exception, -1 not known.</summary>
    public double MinimumSamplingIntervalMs { get; init; }

    /// <summary>Whether history is being collected.</summary>
    public bool Historizing { get; set; }

    /// <summary>Roles that may read and monitor the value.</summary>
    public CallerRoles ReadRoles { get; set; } = CallerRoles.Any;

    /// <summary>Roles that may write the value, where the access level allows it.</summary>
    public CallerRoles WriteRoles { get; set; }

    /// <summary>Takes values clients write; without one the variable is not writable.</summary>
    public VariableWriteHandler? WriteHandler { get; set; }

    /// <summary>Makes the value when it is read, instead of the stored one; set before the server starts.</summary>
    public IValueProvider? Provider { get; set; }

    /// <summary>Number of values stored so far; stands still for a variable with a provider.</summary>
    public long Version => _slot.Version;

    /// <summary>Stores a value. One thread at a time is meant to write; readers are never held up.</summary>
    public void Set(in DataValue value) => _slot.Set(value);

    /// <summary>Stores a value with a Good status.</summary>
    public void Set(Variant value, UaDateTime sourceTimestamp = default) => _slot.Set(new DataValue(value, StatusCode.Good, sourceTimestamp));

    /// <summary>The stored value, whole.</summary>
    /// <returns>The version it belongs to.</returns>
    public long Sample(out DataValue value) => _slot.Read(out value);

    /// <summary>The value now, from the provider or the store, with the timestamps they gave.</summary>
    public DataValue Current(CallerContext caller, UaDateTime now)
    {
        if (Provider is { } provider)
        {
            return provider.Read(caller, now);
        }

        _slot.Read(out DataValue value);
        return value;
    }

    // A reader that found it just before gets what one gets just after.
    internal override void ForgetAll()
    {
        _slot.Set(new DataValue(StatusCode.BadNodeIdUnknown));
        Provider = null;
        base.ForgetAll();
    }

    /// <summary>The UserAccessLevel attribute.</summary>
    public AccessLevels UserAccessLevel(CallerContext caller)
    {
        ArgumentNullException.ThrowIfNull(caller);
        AccessLevels allowed = AccessLevel;
        if (!caller.HasOneOf(ReadRoles))
        {
            allowed &= ~(AccessLevels.CurrentRead | AccessLevels.HistoryRead);
        }

        return caller.HasOneOf(WriteRoles) ? allowed : allowed & ~(AccessLevels.CurrentWrite | AccessLevels.HistoryWrite | AccessLevels.StatusWrite | AccessLevels.TimestampWrite);
    }
}
