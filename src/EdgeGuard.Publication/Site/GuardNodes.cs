using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.Publication.Site;

/// <summary>The variables of the guard itself and of the site as a whole.</summary>
internal sealed class GuardNodes
{
    public required VariableNode SitePower { get; init; }

    public required VariableNode Scans { get; init; }

    public required VariableNode Heartbeat { get; init; }

    public required VariableNode LatenessLast { get; init; }

    public required VariableNode LatenessMax { get; init; }

    public required VariableNode Overruns { get; init; }

    public required VariableNode Allocated { get; init; }

    public required VariableNode Journal { get; init; }

    public required VariableNode DurableEvent { get; init; }

    public required VariableNode TailDropped { get; init; }

    public required VariableNode Events { get; init; }

    public required VariableNode RunId { get; init; }

    public required VariableNode JournalHeadNumber { get; init; }

    public required VariableNode JournalHeadHash { get; init; }

    public required VariableNode Link { get; init; }

    public required VariableNode RecordsLost { get; init; }

    public IEnumerable<VariableNode> Live =>
        [SitePower, Scans, Heartbeat, LatenessLast, LatenessMax, Overruns, Allocated, Journal, DurableEvent, TailDropped, Events];
}
