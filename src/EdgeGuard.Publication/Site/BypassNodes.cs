using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.Publication.Site;

/// <summary>The variables of the bypass of one function.</summary>
/// <param name="Active">Whether it is in force.</param>
/// <param name="Person">Who asked for it.</param>
/// <param name="Until">When it expires.</param>
internal sealed record BypassNodes(VariableNode Active, VariableNode Person, VariableNode Until);
