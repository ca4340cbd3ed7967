namespace EdgeGuard.VirtualPlant.Ledger;

/// <summary>Power on and off with time stamps, and whether the blower was lowered while removed power still flowed.</summary>
public sealed class PowerRecord
{
    /// <summary>Most transitions kept; later ones are counted only.</summary>
    public const int TransitionsMax = 4096;

    private const double BlowerTolerancePercent = 0.05;

    private readonly List<PowerTransition> _transitions = [];

    private bool _powered;

    private bool _permitted;

    private double _blowerAtRemovalPercent;

    private bool _episodeCounted;

    /// <summary>The transitions, oldest first.</summary>
    public IReadOnlyList<PowerTransition> Transitions => _transitions;

    /// <summary>Transitions that found no place any more.</summary>
    public long Dropped { get; private set; }

    /// <summary>Highest power, kW.</summary>
    public double MaxKw { get; private set; }

    /// <summary>Time powered although heating was not allowed, ms; the contactor's opening time is part of it.</summary>
    public long PoweredWithoutPermitMs { get; private set; }

    /// <summary>Removals during which the blower was lowered before power was off.</summary>
    public int BlowerLoweredUnderPower { get; private set; }

    /// <summary>First such moment, ms of plant time; −1 when there was none.</summary>
    public long BlowerLoweredAtMs { get; private set; } = -1;

    /// <summary>Takes one step.</summary>
    public void Observe(in LedgerSample sample, bool powered)
    {
        MaxKw = Math.Max(MaxKw, sample.PowerKw);
        if (powered != _powered)
        {
            _powered = powered;
            Add(in sample);
        }

        bool permitted = sample.Permit == PermitState.Permitted;
        if (!permitted && _permitted)
        {
            _blowerAtRemovalPercent = sample.BlowerPercent;
            _episodeCounted = false;
        }

        _permitted = permitted;
        if (powered && !permitted)
        {
            JudgeBlower(in sample);
        }
    }

    private void Add(in LedgerSample sample)
    {
        if (_transitions.Count >= TransitionsMax)
        {
            Dropped++;
            return;
        }

        long atMs = sample.TimeMs - sample.StepMs;
        _transitions.Add(new PowerTransition(atMs, _powered, Math.Round(sample.PowerKw, 3), sample.Permit, atMs - sample.TokenChangeMs));
    }

    private void JudgeBlower(in LedgerSample sample)
    {
        PoweredWithoutPermitMs += sample.StepMs;
        if (sample.BlowerPercent >= _blowerAtRemovalPercent - BlowerTolerancePercent)
        {
            _blowerAtRemovalPercent = Math.Max(_blowerAtRemovalPercent, sample.BlowerPercent);
            return;
        }

        if (!_episodeCounted)
        {
            _episodeCounted = true;
            BlowerLoweredUnderPower++;
            BlowerLoweredAtMs = BlowerLoweredAtMs < 0 ? sample.TimeMs : BlowerLoweredAtMs;
        }
    }
}
