namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>What <see cref="SpaceBuilder"/> needs to know of a variable.</summary>
/// <param name="Id">Text of the NodeId, such as "N-1/outlet"; never made from an index, so that it stays the same.</param>
/// <param name="Name">Browse name and display name.</param>
/// <param name="DataType">NodeId of the data type.</param>
public sealed record VariableSpec(string Id, string Name, NodeId DataType)
{
    /// <summary>Explanation for people, or null.</summary>
    public string? Description { get; init; }

    /// <summary>-1 scalar, 1 one dimension.</summary>
    public int ValueRank { get; init; } = -1;

    /// <summary>Shortest sampling interval that makes sense, in milliseconds: the period at which the value is written.</summary>
    public double MinimumSamplingIntervalMs { get; init; }

    /// <summary>Text of the Definition property: where the value comes from; null for no property.</summary>
    public string? Definition { get; init; }

    /// <summary>Takes values clients write; null for a variable that is only read.</summary>
    public VariableWriteHandler? WriteHandler { get; init; }

    /// <summary>Roles that may write.</summary>
    public CallerRoles WriteRoles { get; init; }

    /// <summary>Makes the value when it is read, or null for a stored value.</summary>
    public IValueProvider? Provider { get; init; }
}
