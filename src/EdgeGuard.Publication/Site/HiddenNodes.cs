using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.Publication.Site;

/// <summary>The variables of what is hidden of one alarm.</summary>
/// <param name="ShelvedUntil">When the time on the shelf is over.</param>
/// <param name="HiddenBy">Who shelved it or took it out of service.</param>
/// <param name="HiddenReason">Why: the person's reason, or the rule of the design.</param>
internal sealed record HiddenNodes(VariableNode ShelvedUntil, VariableNode HiddenBy, VariableNode HiddenReason)
{
    public IEnumerable<VariableNode> All => [ShelvedUntil, HiddenBy, HiddenReason];
}
