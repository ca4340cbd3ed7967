namespace EdgeGuard.Service.ReactionTimes;

/// <summary>All figures that a reaction budget is computed from; one that is wrong in the site is NaN.</summary>
internal sealed record ReactionInput
{
    public required ReactionOptions Options { get; init; }

    public required double RatedPowerKw { get; init; }

    public required double ScanMs { get; init; }

    /// <summary>The longest poll lead of the unit's links.</summary>
    public required double PollLeadMs { get; init; }

    /// <summary>The longest time limit of an answer on the unit's links.</summary>
    public required double AnswerMs { get; init; }

    /// <summary>Age at which a value is no longer good.</summary>
    public required double StaleMs { get; init; }

    /// <summary>Delay of SENS, by which a value that is not good trips.</summary>
    public required double SensDelayMs { get; init; }

    /// <summary>NaN without a watchdog.</summary>
    public required double WatchdogMs { get; init; }

    public required double FlowLimitKgPerHour { get; init; }

    public required double FlowRangeKgPerHour { get; init; }

    public required double FlowDelayMs { get; init; }

    public required double ElemTripC { get; init; }

    public required double ElemDelayMs { get; init; }

    public required double DestructionC { get; init; }

    public required double OutlTripC { get; init; }

    public required double OutlDelayMs { get; init; }

    public required double BlankingMs { get; init; }

    public required double ProofMs { get; init; }

    /// <summary>False where a figure that every budget needs is wrong or missing.</summary>
    public bool IsComplete => double.IsFinite(
        RatedPowerKw + ScanMs + PollLeadMs + AnswerMs + FlowLimitKgPerHour + FlowRangeKgPerHour + FlowDelayMs
        + ElemTripC + ElemDelayMs + DestructionC + OutlTripC + OutlDelayMs + BlankingMs + ProofMs + StaleMs + SensDelayMs) && ScanMs > 0 && FlowLimitKgPerHour > 0;
}
