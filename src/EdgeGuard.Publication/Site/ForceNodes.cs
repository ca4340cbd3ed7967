using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.Publication.Site;

/// <summary>The variables of the force of one signal.</summary>
/// <param name="Forced">Whether its value is forced.</param>
/// <param name="Person">Who asked for it.</param>
/// <param name="Reason">Why.</param>
/// <param name="Until">When it expires.</param>
/// <param name="Demands">Demands of the real value since the force began.</param>
/// <param name="Real">What the device says, forced or not.</param>
internal sealed record ForceNodes(VariableNode Forced, VariableNode Person, VariableNode Reason, VariableNode Until, VariableNode Demands, VariableNode Real)
{
    public IEnumerable<VariableNode> All => [Forced, Person, Reason, Until, Demands, Real];
}
