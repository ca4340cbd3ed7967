using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.Publication.Site;

/// <summary>The counters of one function, over restarts.</summary>
/// <param name="Demands">Demands, bypassed ones not.</param>
/// <param name="Trips">Trips with this function first.</param>
/// <param name="BypassedDemands">Demands while it was bypassed.</param>
/// <param name="SpuriousTrips">Trips a person found to be spurious.</param>
/// <param name="ForcedDemands">Demands of real values that a forced one kept from taking effect.</param>
internal sealed record CountNodes(VariableNode Demands, VariableNode Trips, VariableNode BypassedDemands, VariableNode SpuriousTrips, VariableNode ForcedDemands)
{
    public IEnumerable<VariableNode> All => [Demands, Trips, BypassedDemands, SpuriousTrips, ForcedDemands];
}
