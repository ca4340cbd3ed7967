using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// CMDV: the cabinet must have what was written, and must be the guard's to command. A key on local is recognised and
/// not fought: the unit steps aside with a trip. A watchdog time that differs from the configured one would let a dead
/// guard heat for longer than stated: it forbids a permit and trips a unit that has one. A read-back that differs for
/// <see cref="DifferMs"/> is an alarm; the command itself is repeated until it agrees.
/// </summary>
internal sealed class CommandFunction() : ProtectiveFunction(FunctionId.Cmdv)
{
    /// <summary>A read-back may differ for this long: link, device and the way back, ms.</summary>
    public const int DifferMs = 2_000;

    private readonly ScanDelay[] _differs = new ScanDelay[CommandRoles.Count];
    private readonly bool[] _told = new bool[CommandRoles.Count];
    private ScanDelay _local;
    private ScanDelay _keyUnknown;
    private ScanDelay _watchdog;

    /// <summary>Roles whose read-back began to differ in this scan, one bit each.</summary>
    public int NewlyDiffering { get; private set; }

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        bool fitted = unit.Fitted[(int)SignalRole.KeySupervised];
        bool local = _local.Passed(unit.KeyLocal, unit.Scan, 0);
        bool keyNotGood = fitted && !unit.IsGood(SignalRole.KeySupervised);
        bool keyUnknown = _keyUnknown.Passed(keyNotGood, unit.Scan, unit.Scans(unit.Table.SensDelayMs));
        bool watchdogDiffers = unit.IsGood(SignalRole.WatchdogTime) && !unit.WatchdogAgrees;
        _watchdog.Passed(watchdogDiffers, unit.Scan, 0);
        bool differs = JudgeReadBacks(unit);

        bool demands = (local && unit.Enforces) || (keyUnknown && unit.Enforces) || unit.StartPositionFailed
            || (watchdogDiffers && (unit.Permit || unit.PendingDurable));
        status.Value = watchdogDiffers ? unit.ValueOrNaN(SignalRole.WatchdogTime) : unit.ValueOrNaN(SignalRole.KeySupervised);
        status.Limit = watchdogDiffers ? unit.Table.WatchdogMs : 1;
        status.SinceScan = _local.Runs ? _local.Since : _keyUnknown.Runs ? _keyUnknown.Since : _watchdog.Since;
        status.State = demands ? FunctionState.Demand
            : keyNotGood && unit.Enforces ? FunctionState.NotGood
            : local || watchdogDiffers || differs ? FunctionState.Alarm
            : FunctionState.Healthy;
    }

    private bool JudgeReadBacks(UnitMemory unit)
    {
        bool any = false;
        NewlyDiffering = 0;
        foreach (CommandTable command in unit.Commands)
        {
            int role = (int)command.Role;
            bool passed = _differs[role].Passed(Differs(unit, command), unit.Scan, unit.Scans(DifferMs));
            NewlyDiffering |= passed && !_told[role] ? 1 << role : 0;
            _told[role] = passed;
            any |= passed;
        }

        return any;
    }

    private static bool Differs(UnitMemory unit, CommandTable command)
    {
        double wanted = unit.Wanted[(int)command.Role];
        bool renewing = command.Role == CommandRole.Heartbeat && wanted != 0;
        if (command.ReadBack is not SignalRole readBack || double.IsNaN(wanted) || renewing || !unit.IsGood(readBack))
        {
            return false;
        }

        return Math.Abs(unit.Image[readBack].Value - wanted) > command.Tolerance + LagAllowance(unit, command.Role);
    }

    /// <summary>A led value moves on while its read-back travels.</summary>
    private static double LagAllowance(UnitMemory unit, CommandRole role) => role switch
    {
        CommandRole.Setpoint => Math.Max(unit.Table.Cool.RampUpKPerMin, unit.Table.Cool.RampDownKPerMin) / 60_000 * DifferMs,
        CommandRole.BlowerDemand => unit.Table.Cool.BlowerEasePercentPerSecond / 1_000 * DifferMs,
        _ => 0,
    };
}
