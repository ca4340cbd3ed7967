using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// The way from pre-flow to power: flow proved, start position read back, no function against it, the supply free,
/// the decision durable. Every scan asks again; whatever is lost on the way takes a decided permit back.
/// </summary>
internal sealed class PreFlowGate
{
    /// <summary>An output up to this reads as 0 %: resolution and offset of an analogue output, per cent.</summary>
    private const double ZeroOutputPercent = 1;

    /// <summary>Resolution of an output limit, per cent.</summary>
    private const double OutputLimitTolerancePercent = 0.1;

    private ScanDelay _blocked;

    /// <summary>One scan in pre-flow; true when power is permitted from now on.</summary>
    public bool Step(UnitMemory unit, FunctionStatus[] verdicts, SupplyBudget supply, EventSink sink, long lastDurable)
    {
        TellProof(unit, sink);
        bool agrees = unit.FlowProved && MayHavePower(unit, verdicts) && InStartPosition(unit);
        int giveUpScans = unit.Scans((4L * unit.Table.Flow.PreFlowMs) + 60_000);
        unit.StartPositionFailed = _blocked.Passed(unit.FlowProved && (!agrees || unit.PendingDurable), unit.Scan, giveUpScans);
        if (!agrees)
        {
            UnitSequence.Withdraw(unit, sink, FunctionId.None);
            UnitSequence.Hold(unit, sink, false, 0);
            unit.WaitsForSupply = false;
            return false;
        }

        if (!unit.PendingDurable)
        {
            Decide(unit, supply, sink);
            return false;
        }

        return lastDurable >= unit.PermitEvent;
    }

    /// <summary>Forgets what it waited for; on leaving pre-flow.</summary>
    public void Leave(UnitMemory unit)
    {
        _blocked = default;
        unit.WaitsForSupply = false;
        unit.FlowProvedTold = false;
        unit.StartPositionFailed = false;
    }

    /// <summary>Nothing forbids power: key, journal, watchdog, settings of the devices, power proved off, nothing forced that forbids it, every removing function healthy.</summary>
    public static bool MayHavePower(UnitMemory unit, FunctionStatus[] verdicts)
    {
        return unit.KeySupervised && unit.Raw.Journal == JournalHealth.Healthy && unit.WatchdogAgrees && unit.SettingsAgree && unit.PowerProvedOff
            && !unit.Forces.ForbidsStart && BlockingPermit(verdicts) == FunctionId.None;
    }

    /// <summary>The first function that forbids a start and a permit, or None.</summary>
    public static FunctionId BlockingPermit(FunctionStatus[] verdicts)
    {
        for (int i = 1; i < FunctionIds.Count; i++)
        {
            if (FunctionIds.BlocksPermit(in verdicts[i]))
            {
                return (FunctionId)i;
            }
        }

        return FunctionId.None;
    }

    /// <summary>The first removing function that is not healthy, or None.</summary>
    public static FunctionId Blocking(FunctionStatus[] verdicts)
    {
        for (int i = 1; i < FunctionIds.Count; i++)
        {
            if (FunctionIds.Blocks(in verdicts[i]))
            {
                return (FunctionId)i;
            }
        }

        return FunctionId.None;
    }

    /// <summary>The output of the controller reads 0 %.</summary>
    public static bool OutputAtZero(UnitMemory unit) =>
        !unit.Fitted[(int)SignalRole.Output] || unit.ValueOrNaN(SignalRole.Output) <= ZeroOutputPercent;

    private static bool InStartPosition(UnitMemory unit)
    {
        double outlet = unit.RealOrNaN(SignalRole.OutletTemperature);
        bool automatic = !unit.Fitted[(int)SignalRole.ManualMode] || unit.ValueOrNaN(SignalRole.ManualMode) < 0.5;
        bool setpointLow = !unit.Fitted[(int)SignalRole.RemoteSetpoint]
            || unit.ValueOrNaN(SignalRole.RemoteSetpoint) <= outlet + SetpointLead.StepK(unit);
        bool limited = !unit.Fitted[(int)SignalRole.OutputLimit]
            || unit.ValueOrNaN(SignalRole.OutputLimit) <= unit.OutputLimitPercent + OutputLimitTolerancePercent;
        return OutputAtZero(unit) && automatic && setpointLow && limited && !double.IsNaN(outlet);
    }

    private static void TellProof(UnitMemory unit, EventSink sink)
    {
        if (unit.FlowProved && !unit.FlowProvedTold)
        {
            sink.Raise(EventId.FlowProved, FunctionId.Flow, unit.RealOrNaN(SignalRole.GasFlow), unit.Table.Flow.ProvingKgPerHour);
        }

        unit.FlowProvedTold = unit.FlowProved;
    }

    private static void Decide(UnitMemory unit, SupplyBudget supply, EventSink sink)
    {
        bool fits = supply.Fits(unit, out double sumKw);
        unit.WaitsForSupply = !fits;
        UnitSequence.Hold(unit, sink, !fits, sumKw);
        if (!fits)
        {
            return;
        }

        unit.LedSetpointC = unit.Real[SignalRole.OutletTemperature].Value;
        double target = unit.Table.SetpointC;
        double rate = unit.LedSetpointC <= target ? unit.Table.Cool.RampUpKPerMin : unit.Table.Cool.RampDownKPerMin;
        sink.Raise(EventId.RampEnvelope, FunctionId.None, unit.LedSetpointC, target, (long)(rate * 1_000));
        unit.PermitEvent = sink.Raise(EventId.PermitGranted, FunctionId.None, unit.LedSetpointC, target);
        unit.PendingDurable = true;
    }
}
