namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>One direction of a reference as its node sees it; the other node holds the opposite one.</summary>
/// <param name="Type">Reference type.</param>
/// <param name="IsForward">Whether the node that holds this is the source.</param>
/// <param name="Target">The node at the other end.</param>
public readonly record struct Reference(ReferenceTypeNode Type, bool IsForward, Node Target);
