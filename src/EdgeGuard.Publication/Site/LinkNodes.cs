using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.Publication.Site;

/// <summary>The variables of one link to devices.</summary>
internal sealed class LinkNodes
{
    public required VariableNode State { get; init; }

    public required VariableNode Requests { get; init; }

    public required VariableNode Answers { get; init; }

    public required VariableNode Exceptions { get; init; }

    public required VariableNode Timeouts { get; init; }

    public required VariableNode BadAnswers { get; init; }

    public required VariableNode ChecksumErrors { get; init; }

    public required VariableNode LateAnswers { get; init; }

    public required VariableNode Connects { get; init; }

    public required VariableNode Losses { get; init; }

    public required VariableNode FailedWrites { get; init; }

    public required VariableNode DroppedWrites { get; init; }

    public required VariableNode PollOverruns { get; init; }

    public required VariableNode Faults { get; init; }

    public required VariableNode RoundTripLast { get; init; }

    public required VariableNode RoundTripMax { get; init; }

    public IEnumerable<VariableNode> All =>
    [
        State, Requests, Answers, Exceptions, Timeouts, BadAnswers, ChecksumErrors, LateAnswers, Connects, Losses, FailedWrites, DroppedWrites,
        PollOverruns, Faults, RoundTripLast, RoundTripMax,
    ];
}
