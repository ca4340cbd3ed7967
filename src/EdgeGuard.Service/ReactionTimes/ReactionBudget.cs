using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Service.ReactionTimes;

/// <summary>The time a function takes in a scenario against the time there is. Computed from entered data; no validation.</summary>
public sealed record ReactionBudget
{
    /// <summary>Whole sentence that stands on every page with such figures.</summary>
    public const string Caveat = "Computed from entered data, not a validation: prove the times on the plant.";

    /// <summary>The scenario.</summary>
    public required ProtectionScenario Scenario { get; init; }

    /// <summary>The function.</summary>
    public required FunctionId Function { get; init; }

    /// <summary>Process safety time, ms: from the trip limit of the element to its destruction; infinite when it never gets there.</summary>
    public required double AvailableMs { get; init; }

    /// <summary>How that time comes about.</summary>
    public required string AvailableWords { get; init; }

    /// <summary>Terms of the chain when every write arrives.</summary>
    public required IReadOnlyList<BudgetTerm> Terms { get; init; }

    /// <summary>Watchdog time of the cabinet, ms; NaN where it takes no part.</summary>
    public required double WatchdogMs { get; init; }

    /// <summary>False where the function is no cover at all.</summary>
    public required bool Covers { get; init; }

    /// <summary>Chain when every write arrives, ms.</summary>
    public double CommandMs => Terms.Sum(t => t.Ms);

    /// <summary>The longer of the two ways to the contactor: by command, or by the watchdog when the write is lost.</summary>
    public IReadOnlyList<BudgetTerm> WorstTerms => ByWatchdog
        ? [.. Terms.Select(t => t.Kind == BudgetTermKind.Write ? new BudgetTerm(BudgetTermKind.Watchdog, WatchdogMs) : t)]
        : Terms;

    /// <summary>Chain of that way, ms.</summary>
    public double WorstMs => WorstTerms.Sum(t => t.Ms);

    /// <summary>The longest term of that way; the first of equals.</summary>
    public BudgetTerm Dominant => WorstTerms.MaxBy(t => t.Ms)!;

    /// <summary>The judgement.</summary>
    public BudgetVerdict Verdict
    {
        get
        {
            if (!Covers)
            {
                return BudgetVerdict.NoCover;
            }

            if (!(WorstMs < AvailableMs))
            {
                return BudgetVerdict.TooSlow;
            }

            return WorstMs > AvailableMs / 2 ? BudgetVerdict.Tight : BudgetVerdict.InTime;
        }
    }

    /// <summary>The scenario in words.</summary>
    public string ScenarioName => Scenario switch
    {
        ProtectionScenario.DryFire => "dry fire",
        ProtectionScenario.Runaway => "runaway with gas",
        _ => "residual power",
    };

    /// <summary>The function as people name it.</summary>
    public string FunctionName => Function.ToString().ToUpperInvariant();

    /// <summary>The verdict in words.</summary>
    public string VerdictWords => Verdict switch
    {
        BudgetVerdict.InTime => "in time",
        BudgetVerdict.Tight => "in time, more than half of it used",
        BudgetVerdict.NoCover => "no cover",
        _ => "TOO SLOW",
    };

    private bool ByWatchdog => Terms.FirstOrDefault(t => t.Kind == BudgetTermKind.Write) is { } write && WatchdogMs > write.Ms;
}
