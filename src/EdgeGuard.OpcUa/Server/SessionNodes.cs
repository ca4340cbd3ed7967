using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.OpcUa.Server;

/// <summary>What clients find of one session in the space.</summary>
/// <param name="All">Every node, the object of the session included.</param>
/// <param name="Links">Which node of the server holds which of them.</param>
/// <param name="Subscriptions">The array of the session's own subscriptions, which holds their variables.</param>
internal sealed record SessionNodes(IReadOnlyList<Node> All, (Node Holder, Node Held)[] Links, VariableNode Subscriptions);
