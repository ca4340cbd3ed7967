using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Maps;
using EdgeGuard.Service.Configuration.Schema;

namespace EdgeGuard.Service.Configuration.Building;

/// <summary>Makes the core's table of one unit.</summary>
internal static class UnitBuilder
{
    public static UnitTable Build(UnitDraft unit, double scanMs, PollPlan plan, SettingsVerdicts verdicts) => new()
    {
        Name = unit.Name!,
        Mode = unit.Mode,
        FinalElement = unit.FinalElement,
        RatedPowerKw = unit.RatedPowerKw,
        RampPowerKw = unit.Section.Number("rampPowerKw", double.PositiveInfinity),
        SetpointC = unit.SetpointC,
        TripSetpointC = unit.Section.Number("tripSetpointC"),
        RemoteReset = unit.Section.Flag("remoteReset"),
        WatchdogMs = (int)unit.WatchdogMs,
        CommLimitMs = (int)unit.Comm.Number("limitMs"),
        SensDelayMs = (int)unit.Sens.Number("delayMs"),
        Signals = [.. RoleFacts.All.Where(r => unit.BoundSignals.ContainsKey(r.Role)).Select(r => Signal(unit, r.Role, scanMs, plan)), .. verdicts.Signals(unit, scanMs)],
        Commands = [.. CommandFacts.All.Where(c => unit.BoundCommands.ContainsKey(c.Role)).Select(c => Command(unit, c))],
        Gas = unit.Gas,
        Flow = ProtectionBuilder.Flow(unit),
        Sens = ProtectionBuilder.Sensors(unit, scanMs),
        Voting = ProtectionBuilder.Voting(unit),
        Phas = ProtectionBuilder.Phases(unit),
        Leak = ProtectionBuilder.Leak(unit),
        Bala = ProtectionBuilder.Balance(unit, scanMs),
        Elem = Temperature(unit.Elem, unit.ElemAlarmC),
        Outl = Temperature(unit.Outl, unit.OutlAlarmC),
        Nors = NoResponse(unit),
        Resd = new ResidualTable
        {
            LimitPercent = unit.Resd.Number("limitPercent"),
            BlankingMs = (int)unit.Resd.Number("blankingMs"),
            ProofMs = (int)unit.Resd.Number("proofMs"),
        },
        Cool = Cool(unit),
        RepeatedResetsPerHour = (int)unit.Section.Number("repeatedResetsPerHour"),
        Force = ProtectionBuilder.Force(unit),
        Bypass = new BypassTable
        {
            MaxMinutes = (int)unit.Bypass.Number("maxMinutes"),
            Functions = [.. BypassFlags.All.Where(f => unit.Bypass.Flag(f.Name)).Select(f => f.Function)],
        },
        Shelf = new ShelfTable
        {
            MaxMinutes = (int)unit.Alarms.Number("maxMinutes"),
            OutOfService = unit.Alarms.Flag("outOfService"),
            Marked = [.. AlarmFlags.All.Where(f => unit.Alarms.Flag(f.Name)).Select(f => f.Alarm)],
        },
    };

    private static TemperatureTable Temperature(Section section, double alarmC) => new()
    {
        AlarmC = alarmC,
        TripC = section.Number("tripC"),
        DelayMs = (int)section.Number("delayMs"),
        HysteresisK = section.Number("hysteresisK"),
    };

    private static NoResponseTable NoResponse(UnitDraft unit) => new()
    {
        PowerPercent = unit.Nors.Number("powerPercent"),
        DelayMs = (int)unit.Nors.Number("delayMs"),
        SlopeKPerMin = unit.Nors.Number("slopeKPerMin"),
        FallingKPerMin = unit.FallingKPerMin,
    };

    private static CoolTable Cool(UnitDraft unit) => new()
    {
        RampUpKPerMin = unit.Cool.Number("rampUpKPerMin"),
        RampDownKPerMin = unit.RampDownKPerMin,
        Signal = unit.Cool.Text("signal") is "elementTemperature" ? SignalRole.ElementTemperature : SignalRole.OutletTemperature,
        WindowMs = (int)unit.Cool.Number("windowMs"),
        ToleranceKPerMin = unit.Cool.Number("toleranceKPerMin"),
        HeatAlarmKPerMin = unit.Cool.Number("heatAlarmKPerMin"),
        AfterCoolingBelowC = unit.Cool.Number("afterCoolingBelowC"),
        BlowerRunPercent = unit.Cool.Number("blowerRunPercent"),
        BlowerAfterPercent = unit.BlowerAfterPercent,
        BlowerEasePercentPerSecond = unit.Cool.Number("blowerEasePercentPerSecond"),
        SoakBackK = unit.Cool.Number("soakBackK"),
    };

    private static SignalTable Signal(UnitDraft unit, SignalRole role, double scanMs, PollPlan plan)
    {
        BoundPoint bound = unit.BoundSignals[role];
        (int block, int wordOffset) = plan.Find(bound);
        (double scale, double offset) = bound.CoreScale(unit.Gas);
        (double min, double max) = bound.CoreRange(unit.Gas);
        return new SignalTable
        {
            Role = role,
            Block = block,
            WordOffset = wordOffset,
            Type = bound.Point.Type,
            Order = bound.Point.Order,
            Bit = bound.Point.Bit,
            BitCount = bound.Point.BitCount,
            Scale = scale,
            Offset = offset,
            RangeMin = min,
            RangeMax = max,
            StaleMs = (int)unit.StaleMs(scanMs),
            HoldMs = (int)unit.HoldMs(scanMs),
            Sentinel = bound.Point.Sentinel,
        };
    }

    private static CommandTable Command(UnitDraft unit, CommandFact fact) => new()
    {
        Role = fact.Role,
        ReadBack = unit.BoundSignals.ContainsKey(fact.ReadBack) ? fact.ReadBack : null,
        Tolerance = fact.Tolerance,
    };
}
