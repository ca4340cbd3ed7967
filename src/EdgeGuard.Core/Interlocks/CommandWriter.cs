using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Turns state and permit into wanted writes. Without a permit every path that removes power is written each scan
/// until its read-back agrees and power is proved off, and for <see cref="InsistMs"/> after a removal in any case,
/// since an energising write that timed out can still arrive late. An energising write is made only where a good
/// read-back shows that it is needed, never blindly. On local, only de-energising writes are made, until they agree;
/// while observing, none.
/// </summary>
internal sealed class CommandWriter
{
    /// <summary>After a removal the de-energising writes are repeated for this long whatever is read back, ms.</summary>
    private const int InsistMs = 2_000;

    private readonly UnitMemory _unit;
    private readonly BlowerLead _blower = new();
    private readonly RemovalPaths _removal;

    public CommandWriter(UnitMemory memory)
    {
        _unit = memory;
        _removal = new RemovalPaths(memory.Table);
    }

    public void Write(UnitDecision decision)
    {
        double blower = _blower.Next(_unit, decision.Functions[(int)FunctionId.Resd].State);
        foreach (CommandTable command in _unit.Commands)
        {
            ref CommandDecision wanted = ref decision.Commands[(int)command.Role];
            wanted = default;
            double value = Wanted(command.Role, blower, out bool deEnergising);
            bool active = _unit.Enforces && !double.IsNaN(value) && (deEnergising || !_unit.KeyLocal);
            _unit.Wanted[(int)command.Role] = active ? value : double.NaN;
            if (active)
            {
                wanted.Value = value;
                wanted.DeEnergising = deEnergising;
                wanted.Write = Due(command, value, deEnergising);
            }
        }
    }

    /// <summary>Writes of a unit whose step broke: every path to no power, each scan, and the blower at its run demand.</summary>
    public void WriteSafe(UnitDecision decision)
    {
        foreach (CommandTable command in _unit.Commands)
        {
            double value = command.Role == CommandRole.OutputLimit ? _unit.OutputLimitPercent : _removal.ValueOf(command.Role, _unit.Image);
            bool isBlower = command.Role == CommandRole.BlowerDemand;
            ref CommandDecision wanted = ref decision.Commands[(int)command.Role];
            wanted.Value = isBlower ? _unit.Table.Cool.BlowerRunPercent : value;
            wanted.DeEnergising = !isBlower;
            wanted.Write = _unit.Enforces && !double.IsNaN(wanted.Value) && !(isBlower && _unit.KeyLocal);
        }
    }

    private double Wanted(CommandRole role, double blower, out bool deEnergising)
    {
        deEnergising = false;
        if (role == CommandRole.BlowerDemand)
        {
            return blower;
        }

        if (role == CommandRole.OutputLimit)
        {
            return Math.Min(_unit.OutputLimitPercent, _unit.SetbackPercent);
        }

        if (_unit.Permit)
        {
            return Permitting(role);
        }

        bool preparing = _unit.State == UnitState.PreFlow;
        double start = SetpointLead.StartC(_unit);
        if (preparing && role == CommandRole.ManualMode)
        {
            return 0;
        }

        if (preparing && role == CommandRole.Setpoint && !double.IsNaN(start))
        {
            return start;
        }

        deEnergising = true;
        return _removal.ValueOf(role, _unit.Image);
    }

    private double Permitting(CommandRole role) => role switch
    {
        CommandRole.Heartbeat => NextToken(),
        CommandRole.Relay or CommandRole.Enable => 1,
        CommandRole.ManualMode => 0,
        CommandRole.Setpoint => _unit.LedSetpointC,
        _ => double.NaN,
    };

    /// <summary>The token advances only when the write before is through: one renewal outstanding at most, and 0 is never a renewal.</summary>
    private double NextToken()
    {
        _unit.TokenAdvanced = Feedback(CommandRole.Heartbeat) != CommandFeedback.Outstanding;
        if (_unit.TokenAdvanced)
        {
            _unit.Token = _unit.Token == ushort.MaxValue ? (ushort)1 : (ushort)(_unit.Token + 1);
        }

        return _unit.Token;
    }

    private bool Due(CommandTable command, double value, bool deEnergising)
    {
        if (command.Role == CommandRole.Heartbeat && !deEnergising)
        {
            return _unit.TokenAdvanced;
        }

        // Manual chosen by a person at the controller is recognised by CMDV, not fought: pre-flow alone writes automatic.
        if (command.Role == CommandRole.ManualMode && _unit.Permit)
        {
            return false;
        }

        bool early = _unit.Scan - _unit.RemovalScan <= _unit.Scans(InsistMs);
        if (deEnergising && (early || (!_unit.PowerProvedOff && !_unit.KeyLocal)))
        {
            return true;
        }

        if (command.ReadBack is not SignalRole readBack)
        {
            return true;
        }

        // A blower that cannot be read is asked to run all the same: gas never does the harm that power does.
        ref SignalValue found = ref _unit.Image[readBack];
        return found.IsGood ? Math.Abs(found.Value - value) > command.Tolerance : deEnergising || command.Role == CommandRole.BlowerDemand;
    }

    private CommandFeedback Feedback(CommandRole role) => _unit.Raw.Feedback[(_unit.Unit * CommandRoles.Count) + (int)role];
}
