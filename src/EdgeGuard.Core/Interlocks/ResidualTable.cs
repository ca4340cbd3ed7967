namespace EdgeGuard.Core.Interlocks;

/// <summary>Settings of RESD and of the proof that power is off.</summary>
public sealed record ResidualTable
{
    /// <summary>Power above this counts as present, per cent of rated power (default 3).</summary>
    public required double LimitPercent { get; init; }

    /// <summary>Time after removal during which nothing is judged (contactor and firing cycle), ms.</summary>
    public required int BlankingMs { get; init; }

    /// <summary>Time the power must stay below (or above) the limit to be proved off (or residual), ms; two firing cycles at least.</summary>
    public required int ProofMs { get; init; }
}
