using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Publication.Site;

/// <summary>The variables of one link to devices, one for each <see cref="LinkFigure"/> and in that order.</summary>
internal sealed class LinkNodes(VariableNode[] all)
{
    public IReadOnlyList<VariableNode> All => all;

    public VariableNode this[LinkFigure figure] => all[(int)figure];
}
