using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>Raises what is found at the cabinet: outputs at start, the key, flow seen at zero, power proved off, read-backs that differ.</summary>
internal sealed class FindingWatch
{
    private bool _found;
    private bool _keyKnown;
    private bool _keySupervised;
    private bool _provedOff;

    public void Tell(UnitMemory unit, EventSink sink)
    {
        if (!_found && EverythingRead(unit))
        {
            _found = true;
            sink.Raise(
                EventId.FoundOutputs, FunctionId.None, unit.ValueOrNaN(SignalRole.Output), unit.ValueOrNaN(SignalRole.Power), FoundBits(unit));
        }

        TellKey(unit, sink);
        if (unit.FlowZeroNow && !unit.FlowZeroSeen)
        {
            unit.FlowZeroSeen = true;
            sink.Raise(EventId.FlowZeroSeen, FunctionId.Flow, unit.RealOrNaN(SignalRole.GasFlow), unit.Table.Flow.LimitKgPerHour);
        }

        if (unit.PowerProvedOff && !_provedOff)
        {
            sink.Raise(EventId.PowerProvedOff, FunctionId.Resd, unit.ValueOrNaN(SignalRole.Power), unit.ResidualKw);
        }

        _provedOff = unit.PowerProvedOff;
    }

    /// <summary>One event for each command whose read-back began to differ, and one for a watchdog that dropped.</summary>
    public static void TellReadBacks(UnitMemory unit, CommandFunction found, EventSink sink)
    {
        if (found.WatchdogNewlyDropped)
        {
            sink.Raise(EventId.WatchdogDropped, FunctionId.Cmdv, unit.ValueOrNaN(SignalRole.WatchdogAlive), 1);
        }

        foreach (CommandTable command in unit.Commands)
        {
            int role = (int)command.Role;
            if ((found.NewlyDiffering & (1 << role)) != 0 && command.ReadBack is SignalRole readBack)
            {
                sink.Raise(EventId.ReadBackDiffers, FunctionId.Cmdv, unit.ValueOrNaN(readBack), unit.Wanted[role], role);
            }
        }
    }

    private static bool EverythingRead(UnitMemory unit)
    {
        foreach (SignalTable signal in unit.Signals)
        {
            if (unit.Raw.Blocks[signal.Block].AgeMs == int.MaxValue)
            {
                return false;
            }
        }

        return true;
    }

    private void TellKey(UnitMemory unit, EventSink sink)
    {
        if (!unit.IsGood(SignalRole.KeySupervised))
        {
            return;
        }

        if (_keyKnown && unit.KeySupervised != _keySupervised)
        {
            sink.Raise(EventId.KeyChanged, FunctionId.Cmdv, unit.KeySupervised ? 1 : 0, 1);
        }

        _keyKnown = true;
        _keySupervised = unit.KeySupervised;
    }

    /// <summary>Bits as <see cref="EventId.FoundOutputs"/> says; a signal that is not good leaves its bit 0.</summary>
    private static long FoundBits(UnitMemory unit) =>
        Bit(unit, SignalRole.Relay, 0) | Bit(unit, SignalRole.Enable, 1) | Bit(unit, SignalRole.Heartbeat, 2)
        | Bit(unit, SignalRole.ManualMode, 3) | Bit(unit, SignalRole.ContactorClosed, 4) | Bit(unit, SignalRole.KeySupervised, 5)
        | Bit(unit, SignalRole.ChainHealthy, 6) | Bit(unit, SignalRole.BlowerDemand, 7);

    private static long Bit(UnitMemory unit, SignalRole role, int bit) => unit.ValueOrNaN(role) >= 0.5 ? 1L << bit : 0;
}
