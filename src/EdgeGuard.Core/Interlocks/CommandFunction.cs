using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// CMDV: the cabinet must have what was written, and must be the guard's to command. Whoever takes it over is
/// recognised and not fought, the unit steps aside with a trip: a key on local, a controller put into manual under a
/// permit, a second writer of the permit token, relay or enable taken away under a permit that had them. A cabinet that says its watchdog has dropped under a permit trips the
/// unit, so that power never comes back without a reset. A watchdog time that differs from the configured one would
/// let a dead guard heat for longer than stated: it forbids a permit and trips a unit that has one. So do settings of a
/// device that are not those commissioned: a sensor read as another type reads too low. Any other
/// read-back that differs for <see cref="DifferMs"/> is an alarm; the command itself is repeated until it agrees.
/// </summary>
internal sealed class CommandFunction(UnitTable table, int scanMs) : ProtectiveFunction(FunctionId.Cmdv)
{
    /// <summary>A read-back may differ for this long: link, device and the way back, ms.</summary>
    public const int DifferMs = 2_000;

    private readonly ScanDelay[] _differs = new ScanDelay[CommandRoles.Count];
    private readonly bool[] _told = new bool[CommandRoles.Count];
    private readonly TokenWatch _token = new(table, scanMs);
    private readonly WatchdogWatch _alive = new();
    private ScanDelay _local;
    private ScanDelay _keyUnknown;
    private ScanDelay _watchdog;
    private ScanDelay _manual;
    private ScanDelay _dropped;
    private ScanDelay _settings;
    private ScanDelay _settingsUnknown;
    private ScanDelay _taken;
    private bool _relaySeen;
    private bool _enableSeen;

    /// <summary>Roles whose read-back began to differ in this scan, one bit each.</summary>
    public int NewlyDiffering { get; private set; }

    /// <summary>The cabinet's watchdog dropped under a permit in this scan.</summary>
    public bool WatchdogNewlyDropped => _alive.NewlyDropped;

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        bool fitted = unit.Fitted[(int)SignalRole.KeySupervised];
        bool local = _local.Passed(unit.KeyLocal, unit.Scan, 0);
        bool keyNotGood = fitted && !unit.IsGood(SignalRole.KeySupervised);
        bool keyUnknown = _keyUnknown.Passed(keyNotGood, unit.Scan, unit.Scans(unit.Table.SensDelayMs));
        bool watchdogDiffers = unit.IsGood(SignalRole.WatchdogTime) && !unit.WatchdogAgrees;
        _watchdog.Passed(watchdogDiffers, unit.Scan, 0);
        _alive.Update(unit, unit.Scans(DifferMs));
        bool foreign = _token.Found(unit, unit.Scans(DifferMs));
        bool manual = _manual.Passed(unit.Permit && unit.ValueOrNaN(SignalRole.ManualMode) >= 0.5, unit.Scan, unit.Scans(DifferMs));
        bool takenAway = TakenAway(unit, SignalRole.Relay, ref _relaySeen) | TakenAway(unit, SignalRole.Enable, ref _enableSeen);
        _taken.Passed(takenAway, unit.Scan, 0);
        bool taken = foreign || manual || takenAway || _alive.Dropped;
        _dropped.Passed(_alive.Dropped, unit.Scan, 0);
        bool differs = JudgeReadBacks(unit, foreign);

        bool demands = ((local || keyUnknown || _alive.Lost) && unit.Enforces) || taken || unit.StartPositionFailed
            || ((watchdogDiffers || unit.SettingsDiffer) && (unit.Permit || unit.PendingDurable));
        _settings.Passed(unit.SettingsDiffer, unit.Scan, 0);
        bool settingsUnknown = _settingsUnknown.Passed(!unit.SettingsAgree && !unit.SettingsDiffer, unit.Scan, unit.Scans(DifferMs));
        Figures(unit, ref status, watchdogDiffers, foreign, manual);
        if (settingsUnknown && status.Finding == Finding.None)
        {
            (status.Finding, status.SinceScan) = (Finding.DeviceSettings, _settingsUnknown.Since);
        }

        status.State = demands ? FunctionState.Demand
            : (keyNotGood || _alive.NotGood) && unit.Enforces ? FunctionState.NotGood
            : local || watchdogDiffers || unit.SettingsDiffer || settingsUnknown || differs ? FunctionState.Alarm
            : FunctionState.Healthy;
    }

    /// <summary>Value and limit of the finding that counts most, and since when it stands.</summary>
    private void Figures(UnitMemory unit, ref FunctionStatus status, bool watchdogDiffers, bool foreign, bool manual)
    {
        (SignalRole judged, status.Finding) = watchdogDiffers ? (SignalRole.WatchdogTime, Finding.WatchdogTime)
            : unit.SettingsDiffer ? (DifferingDevice(unit), Finding.DeviceSettings)
            : foreign ? (SignalRole.Heartbeat, Finding.SecondWriter)
            : manual ? (SignalRole.ManualMode, Finding.Manual)
            : _taken.Runs ? (TakenRole(unit), Finding.TakenAway)
            : _alive.Dropped ? (SignalRole.WatchdogAlive, Finding.WatchdogDropped)
            : unit.KeyLocal ? (SignalRole.KeySupervised, Finding.KeyLocal)
            : _keyUnknown.Runs ? (SignalRole.KeySupervised, Finding.NotReadable)
            : _alive.NotGood ? (SignalRole.WatchdogAlive, Finding.NotReadable)
            : (SignalRole.KeySupervised, unit.StartPositionFailed ? Finding.StartPosition : Finding.None);
        status.Value = unit.ValueOrNaN(judged);
        status.Limit = judged switch
        {
            SignalRole.WatchdogTime => unit.Table.WatchdogMs,
            SignalRole.Heartbeat => unit.Token,
            SignalRole.ManualMode => 0,
            _ => 1,
        };
        status.SinceScan = _local.Runs ? _local.Since
            : _keyUnknown.Runs ? _keyUnknown.Since
            : _watchdog.Runs ? _watchdog.Since
            : _settings.Runs ? _settings.Since
            : foreign ? _token.Since
            : manual ? _manual.Since
            : _taken.Runs ? _taken.Since
            : _dropped.Since;
    }

    private static SignalRole DifferingDevice(UnitMemory unit) =>
        unit.ValueOrNaN(SignalRole.ControllerSettings) < 0.5 ? SignalRole.ControllerSettings : SignalRole.MeterSettings;

    /// <summary>
    /// A path that was read back energised under this permit and is not any more: somebody took it away. To write it
    /// back would be to fight. A good read-back alone counts.
    /// </summary>
    private static bool TakenAway(UnitMemory unit, SignalRole role, ref bool seen)
    {
        double value = unit.Fitted[(int)role] ? unit.ValueOrNaN(role) : double.NaN;
        seen = unit.Permit && (seen || value >= 0.5);
        return seen && value < 0.5;
    }

    private static SignalRole TakenRole(UnitMemory unit) =>
        unit.ValueOrNaN(SignalRole.Relay) < 0.5 ? SignalRole.Relay : SignalRole.Enable;

    private bool JudgeReadBacks(UnitMemory unit, bool foreignToken)
    {
        bool any = false;
        NewlyDiffering = 0;
        foreach (CommandTable command in unit.Commands)
        {
            int role = (int)command.Role;
            bool passed = _differs[role].Passed(Differs(unit, command), unit.Scan, unit.Scans(DifferMs))
                || (foreignToken && command.Role == CommandRole.Heartbeat);
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
