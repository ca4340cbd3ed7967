using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Service.Configuration.Maps;
using EdgeGuard.Service.Configuration.Schema;

namespace EdgeGuard.Service.Configuration.Drafts;

/// <summary>A unit as the file states it with all defaults; wrong numbers read NaN, wrong texts null.</summary>
internal sealed class UnitDraft(Section section, int index, UnitMode? mode)
{
    private IReadOnlyList<FlowCurvePoint>? _flowCurve;
    private IReadOnlyList<(RoleFact Role, Section Range)>? _forcible;
    private IReadOnlyList<ModelPoint>? _modelPoints;

    public Section Section { get; } = section;

    public int Index { get; } = index;

    public string? Name { get; } = section.Text("name");

    public UnitMode Mode { get; } = mode ?? (section.Text("mode") is "enforce" ? UnitMode.Enforce : UnitMode.Observe);

    public FinalElementClass FinalElement { get; } = section.Text("finalElement") switch
    {
        "A" => FinalElementClass.RelayWithWatchdog,
        "B" => FinalElementClass.EnableWithWatchdog,
        "C" => FinalElementClass.SetpointOnly,
        _ => FinalElementClass.None,
    };

    public Gas Gas { get; } = GasNames.Find(section.Text("gas"));

    public double RatedPowerKw { get; } = section.Number("ratedPowerKw");

    public double SetpointC { get; } = section.Number("setpointC");

    public double WatchdogMs { get; } = section.Number("watchdogMs");

    public Section Flow { get; } = section.Child("flow");

    public Section Elem { get; } = section.Child("elem");

    public Section Outl { get; } = section.Child("outl");

    public Section Nors { get; } = section.Child("nors");

    public Section Resd { get; } = section.Child("resd");

    public Section Cool { get; } = section.Child("cool");

    public Section Comm { get; } = section.Child("comm");

    public Section Sens { get; } = section.Child("sens");

    public Section Model { get; } = section.Child("sens").Child("model");

    /// <summary>Roles that can have several sensors, by their key under `voting`.</summary>
    public static readonly IReadOnlyList<(string Key, SignalRole Role)> VotedRoles =
        [("element", SignalRole.ElementTemperature), ("outlet", SignalRole.OutletTemperature), ("flow", SignalRole.GasFlow)];

    public Section Voting { get; } = section.Child("voting");

    public Section Phas { get; } = section.Child("phas");

    public Section Leak { get; } = section.Child("leak");

    public Section Bala { get; } = section.Child("bala");

    public Section Bypass { get; } = section.Child("bypass");

    public Section Force { get; } = section.Child("force");

    /// <summary>The signals the unit marks as forcible, with the section that states their range.</summary>
    public IReadOnlyList<(RoleFact Role, Section Range)> Forcible => _forcible ??= [.. ForcibleRoles.All.Where(r => Force.Has(r.Name)).Select(r => (r, Force.Child(r.Name)))];

    public Section Alarms { get; } = section.Child("alarms");

    public Section Reaction { get; } = section.Child("reaction");

    public Section Signals { get; } = section.Child("signals");

    public Section Commands { get; } = section.Child("commands");

    public Section HardwiredDevice { get; } = section.Child("hardwiredDevice");

    public Section ProofTest { get; } = section.Child("proofTest");

    public Section ProofTestWaiver { get; } = section.Child("proofTestWaiver");

    public Section WatchdogBridge { get; } = section.Child("watchdogBridge");

    public DeviceDraft? Controller { get; set; }

    public DeviceDraft? Meter { get; set; }

    /// <summary>False when a map, device or point has a fault, so that absent roles cannot be judged.</summary>
    public bool BindingComplete { get; set; } = true;

    public Dictionary<SignalRole, BoundPoint> BoundSignals { get; } = [];

    public Dictionary<CommandRole, BoundPoint> BoundCommands { get; } = [];

    public bool Enforces => Mode == UnitMode.Enforce;

    public bool HasWatchdog => FinalElement is FinalElementClass.RelayWithWatchdog or FinalElementClass.EnableWithWatchdog;

    /// <summary>Alarm of ELEM; 50 K below the trip by default.</summary>
    public double ElemAlarmC => Elem.Number("alarmC", Elem.Number("tripC") - 50);

    /// <summary>Alarm of OUTL; 30 K below the trip by default.</summary>
    public double OutlAlarmC => Outl.Number("alarmC", Outl.Number("tripC") - 30);

    /// <summary>The element would be lost before ELEM trips, so no time to its destruction can be computed.</summary>
    public bool TripsAfterDestruction => Elem.Number("tripC") >= Elem.Number("destructionC");

    /// <summary>Flow that after-cooling must have; half the limit by default.</summary>
    public double AfterCoolingKgPerHour => Flow.Number("afterCoolingKgPerHour", Flow.Number("limitKgPerHour") / 2);

    /// <summary>Steady states of the healthy heater; empty when none are stated.</summary>
    public IReadOnlyList<ModelPoint> ModelPoints => _modelPoints ??= [.. Model.Children("points").Select(p => new ModelPoint(p.Number("flowKgPerHour"), p.Number("powerKw"), p.Number("differenceK")))];

    /// <summary>Points of the minimum flow curve; empty when none is stated.</summary>
    public IReadOnlyList<FlowCurvePoint> FlowCurve => _flowCurve ??= [.. Flow.Children("curve").Select(p => new FlowCurvePoint(p.Number("temperatureC"), p.Number("flowKgPerHour")))];

    /// <summary>Whole firing cycles of at least a second, unless stated.</summary>
    public double PhaseBlockMs => Phas.Number("blockMs", Math.Ceiling(1_000 / Resd.Number("firingCycleMs")) * Resd.Number("firingCycleMs"));

    /// <summary>Two flow meters may differ by a tenth of the limit, unless stated.</summary>
    public double FlowDeviationKgPerHour => Voting.Number("deviationKgPerHour", Flow.Number("limitKgPerHour") / 10);

    public double RampDownKPerMin => Cool.Number("rampDownKPerMin");

    /// <summary>Fall of the element under power that no led cool-down explains; twice the cap by default.</summary>
    public double FallingKPerMin => Nors.Number("fallingKPerMin", -2 * RampDownKPerMin);

    public double BlowerAfterPercent => Cool.Number("blowerAfterPercent", Cool.Number("blowerRunPercent"));

    /// <summary>Three scans by default: one lost answer is no stale value.</summary>
    public double StaleMs(double scanMs) => Sens.Number("staleMs", 3 * scanMs);

    /// <summary>Until COMM trips by default.</summary>
    public double HoldMs(double scanMs) => Sens.Number("holdMs", Math.Max(StaleMs(scanMs), Comm.Number("limitMs")));
}
