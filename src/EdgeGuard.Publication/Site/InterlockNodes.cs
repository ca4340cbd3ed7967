using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.Publication.Site;

/// <summary>The variables of one protective function.</summary>
/// <param name="State">Verdict.</param>
/// <param name="Value">Value judged.</param>
/// <param name="Limit">Limit in force.</param>
internal sealed record InterlockNodes(VariableNode State, VariableNode Value, VariableNode Limit);
