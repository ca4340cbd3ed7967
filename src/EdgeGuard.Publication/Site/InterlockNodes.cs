using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.Publication.Site;

/// <summary>The variables of one protective function.</summary>
/// <param name="State">Verdict.</param>
/// <param name="Value">Value judged.</param>
/// <param name="Limit">Limit in force.</param>
/// <param name="Alarm">State of its alarm.</param>
/// <param name="Counts">Demands, trips, demands while bypassed and spurious trips, over restarts.</param>
/// <param name="Bypass">Its bypass; null for a function that can never be bypassed.</param>
/// <param name="Hidden">What is hidden of its alarm; null for a function without one.</param>
internal sealed record InterlockNodes(VariableNode State, VariableNode Value, VariableNode Limit, VariableNode Alarm, CountNodes Counts, BypassNodes? Bypass, HiddenNodes? Hidden);
