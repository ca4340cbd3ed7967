using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.OpcUa.Server;

/// <summary>What clients find of one subscription in the space.</summary>
/// <param name="All">Every node, the variable of the subscription included.</param>
/// <param name="Root">The variable of the subscription.</param>
internal sealed record SubscriptionNodes(IReadOnlyList<Node> All, VariableNode Root);
