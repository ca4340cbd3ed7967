namespace EdgeGuard.VirtualPlant.Ledger;

/// <summary>Power while the true flow was under the minimum, and the reaction to every fall of the meter's register.</summary>
public sealed class FlowRecord(double minimumKgPerHour)
{
    /// <summary>Most reactions kept; later ones are counted only.</summary>
    public const int ReactionsMax = 4096;

    private readonly List<FlowReaction> _reactions = [];

    private FlowReaction? _open;

    private bool _registerBelow = true;

    private bool _trueBelow = true;

    private long _trueBelowMs = -1;

    private long _runMs;

    /// <summary>Time powered with the true flow under the minimum, ms.</summary>
    public long PoweredUnderMinimumMs { get; private set; }

    /// <summary>Longest unbroken such time, ms.</summary>
    public long LongestUnderMinimumMs { get; private set; }

    /// <summary>The reactions, oldest first.</summary>
    public IReadOnlyList<FlowReaction> Reactions => _reactions;

    /// <summary>Reactions that found no place any more.</summary>
    public long Dropped { get; private set; }

    /// <summary>Takes one step.</summary>
    public void Observe(in LedgerSample sample, bool powered)
    {
        Count(in sample, powered);
        bool permitted = sample.Permit == PermitState.Permitted;
        Close(in sample, powered || permitted);
        bool trueBelow = sample.FlowKgPerHour < minimumKgPerHour;
        if (trueBelow != _trueBelow)
        {
            _trueBelow = trueBelow;
            _trueBelowMs = trueBelow ? sample.TimeMs : -1;
        }

        bool registerBelow = sample.MeterKgPerHour < minimumKgPerHour;
        if (registerBelow && !_registerBelow && (powered || permitted))
        {
            Open(new FlowReaction(sample.TimeMs, _trueBelowMs, Math.Round(sample.PowerKw, 3)));
        }

        _registerBelow = registerBelow;
    }

    private void Count(in LedgerSample sample, bool powered)
    {
        if (!powered || sample.FlowKgPerHour >= minimumKgPerHour)
        {
            _runMs = 0;
            return;
        }

        _runMs += sample.StepMs;
        PoweredUnderMinimumMs += sample.StepMs;
        LongestUnderMinimumMs = Math.Max(LongestUnderMinimumMs, _runMs);
    }

    private void Open(FlowReaction reaction)
    {
        _open = reaction;
        if (_reactions.Count < ReactionsMax)
        {
            _reactions.Add(reaction);
            return;
        }

        Dropped++;
    }

    private void Close(in LedgerSample sample, bool stillHot)
    {
        if (_open is null)
        {
            return;
        }

        if (!stillHot)
        {
            // Power was off during the whole step, so it went off at the step's beginning.
            _open.PowerOffMs = sample.TimeMs - sample.StepMs;
            _open = null;
        }
        else if (sample.MeterKgPerHour >= minimumKgPerHour)
        {
            _open.FlowCameBack = true;
            _open = null;
        }
    }
}
