namespace EdgeGuard.Service.ReactionTimes;

/// <summary>Whether a function can remove power in time.</summary>
public enum BudgetVerdict
{
    /// <summary>Its chain is as long as the process safety time or longer.</summary>
    TooSlow = 0,

    /// <summary>It is no cover for this scenario, whatever the times.</summary>
    NoCover = 1,

    /// <summary>In time, with a chain of more than half the process safety time.</summary>
    Tight = 2,

    /// <summary>In time.</summary>
    InTime = 3,
}
