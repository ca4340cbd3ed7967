using System.Text.Json.Serialization;

namespace EdgeGuard.VirtualPlant.Ledger;

/// <summary>One fall of the meter's register below the minimum flow while heating was allowed or power was on.</summary>
/// <param name="RegisterBelowMs">Plant time at which the register first read below the limit, ms.</param>
/// <param name="TrueBelowMs">Plant time at which the true flow last fell below the limit, ms; −1 when it did not.</param>
/// <param name="PowerKw">Power at that moment, kW.</param>
public sealed record FlowReaction(long RegisterBelowMs, long TrueBelowMs, double PowerKw)
{
    /// <summary>Plant time from which power was off and no longer allowed, ms; −1 while it is not.</summary>
    [JsonInclude]
    public long PowerOffMs { get; internal set; } = -1;

    /// <summary>From the register below the limit to power off, ms; −1 while power is not off.</summary>
    public long ReactionMs => PowerOffMs < 0 ? -1 : PowerOffMs - RegisterBelowMs;

    /// <summary>True when the flow came back before power was off; no reaction is measured then.</summary>
    [JsonInclude]
    public bool FlowCameBack { get; internal set; }

    /// <summary>True while neither power off nor flow back has happened.</summary>
    public bool IsOpen => PowerOffMs < 0 && !FlowCameBack;
}
