using System.Globalization;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.ReactionTimes;

/// <summary>
/// The settings of a site as people name them. Registers and addresses are not here: their comparison is by line. A test
/// changes each setting in turn and expects words for it.
/// </summary>
internal static class NamedSettings
{
    public static IReadOnlyList<NamedSetting> Of(SiteConfiguration site)
    {
        var list = new List<NamedSetting>
        {
            new(string.Empty, FunctionId.None, "site", "name of the site", site.Table.Name),
            new(string.Empty, FunctionId.None, "scanMs", "scan period", Time(site.Table.ScanMs)),
            new(string.Empty, FunctionId.None, "supplyLimitKw", "supply limit", Figure(site.Table.SupplyLimitKw, "kW")),
            new(string.Empty, FunctionId.None, "journalFailureMs", "time of a failing journal before a controlled shutdown", Time(site.Table.JournalFailureMs)),
        };
        for (int i = 0; i < site.Table.Units.Count; i++)
        {
            UnitTable unit = site.Table.Units[i];
            AddUnit(list, unit, site.Units[i]);
            AddFunctions(list, unit);
            AddRamps(list, unit);
            AddReaction(list, unit.Name, site.Units[i].Reaction);
        }

        return list;
    }

    private static void AddUnit(List<NamedSetting> list, UnitTable unit, UnitOptions options)
    {
        void Add(string line, string name, string value) => list.Add(new(unit.Name, FunctionId.None, unit.Name + line, $"{name} of {unit.Name}", value));
        Add("", "mode", unit.Mode == UnitMode.Enforce ? "enforce" : "observe");
        Add("", "final element", unit.FinalElement switch { FinalElementClass.RelayWithWatchdog => "A", FinalElementClass.EnableWithWatchdog => "B", _ => "C" });
        Add(".facts", "gas", options.Gas.ToString());
        Add("", "rated power", Figure(unit.RatedPowerKw, "kW"));
        Add("", "ramp power", Figure(unit.RampPowerKw, "kW"));
        Add("", "setpoint", Figure(unit.SetpointC, "°C"));
        Add("", "setpoint written at a trip", Figure(unit.TripSetpointC, "°C"));
        Add("", "remote reset", unit.RemoteReset ? "allowed" : "not allowed");
        Add(".times", "watchdog time", Time(unit.WatchdogMs));
        Add(".facts", "temperature of destruction of the element", Figure(options.ElementDestructionC, "°C"));
        Add(".facts", "hot to cold flow", Figure(options.HotToColdFlow, string.Empty));
        Add(".facts", "firing cycle", Time(options.FiringCycleMs));
        Add(".hardwiredDevice", "hardwired device", Statement(options.HardwiredDevice));
        Add(".proofTest", "proof test", Statement(options.ProofTest));
        Add(".proofTestWaiver", "proof test waiver", Statement(options.ProofTestWaiver));
        Add(".watchdogBridge", "watchdog bridge", Statement(options.WatchdogBridge));
        Add(".bypass", "longest bypass", string.Create(CultureInfo.InvariantCulture, $"{unit.Bypass.MaxMinutes} min"));
        Add(".bypass", "bypassable functions", unit.Bypass.Functions.Count == 0 ? "none" : string.Join(", ", unit.Bypass.Functions).ToUpperInvariant());
        Add(".force", "longest force", string.Create(CultureInfo.InvariantCulture, $"{unit.Force.MaxMinutes} min"));
        Add(".force", "start with a forced value", unit.Force.StartWhileForced ? "allowed" : "not allowed");
        foreach (ForcibleSignal signal in unit.Force.Signals)
        {
            Add(string.Create(CultureInfo.InvariantCulture, $".force.{(int)signal.Role}"), $"forcible range of {signal.Role}", string.Create(CultureInfo.InvariantCulture, $"{signal.Min} to {signal.Max}"));
        }

        Add(".alarms", "longest time of an alarm on the shelf", string.Create(CultureInfo.InvariantCulture, $"{unit.Shelf.MaxMinutes} min"));
        Add(".alarms", "alarms out of service", unit.Shelf.OutOfService ? "allowed" : "not allowed");
        Add(".alarms", "alarms of trips that may be hidden", unit.Shelf.Marked.Count == 0 ? "none" : string.Join(", ", unit.Shelf.Marked.Select(AlarmTexts.CodeOf)));
        Add(".bypass", "resets per hour before an alarm", unit.RepeatedResetsPerHour.ToString(CultureInfo.InvariantCulture));
    }

    private static void AddFunctions(List<NamedSetting> list, UnitTable unit)
    {
        void Add(FunctionId function, string name, string value) =>
            list.Add(new(unit.Name, function, $"{unit.Name}.{LineOf(function, name)}", $"{name} of {function.ToString().ToUpperInvariant()} on {unit.Name}", value));
        Add(FunctionId.Flow, "limit", Figure(unit.Flow.LimitKgPerHour, "kg/h"));
        Add(FunctionId.Flow, "proving flow", Figure(unit.Flow.ProvingKgPerHour, "kg/h"));
        Add(FunctionId.Flow, "after-cooling flow", Figure(unit.Flow.AfterCoolingKgPerHour, "kg/h"));
        Add(FunctionId.Flow, "trip delay", Time(unit.Flow.DelayMs));
        Add(FunctionId.Flow, "pre-flow", Time(unit.Flow.PreFlowMs));
        Add(FunctionId.Flow, "hot pre-flow", Time(unit.Flow.HotPreFlowMs));
        Add(FunctionId.Flow, "hysteresis", Figure(unit.Flow.HysteresisKgPerHour, "kg/h"));
        Add(FunctionId.Flow, "power term", unit.Flow.PowerTerm ? "used" : "not used");
        Add(FunctionId.Flow, "highest inlet temperature", Figure(unit.Flow.InletHighestC, "°C"));
        Add(FunctionId.Flow, "stored heat", Figure(unit.Flow.StoredHeatKjPerK, "kJ/K"));
        Add(FunctionId.Flow, "setback", Time(unit.Flow.SetbackMs));
        AddTemperature(Add, FunctionId.Elem, unit.Elem);
        AddTemperature(Add, FunctionId.Outl, unit.Outl);
        Add(FunctionId.Nors, "power", Figure(unit.Nors.PowerPercent, "%"));
        Add(FunctionId.Nors, "trip delay", Time(unit.Nors.DelayMs));
        Add(FunctionId.Nors, "least slope", Figure(unit.Nors.SlopeKPerMin, "K/min"));
        Add(FunctionId.Nors, "falling slope", Figure(unit.Nors.FallingKPerMin, "K/min"));
        Add(FunctionId.Resd, "limit", Figure(unit.Resd.LimitPercent, "% of rated"));
        Add(FunctionId.Resd, "blanking", Time(unit.Resd.BlankingMs));
        Add(FunctionId.Resd, "proof", Time(unit.Resd.ProofMs));
        Add(FunctionId.Comm, "limit", Time(unit.CommLimitMs));
        Add(FunctionId.Sens, "delay", Time(unit.SensDelayMs));
    }

    private static string LineOf(FunctionId function, string name) => function switch
    {
        FunctionId.Comm or FunctionId.Sens => "times",
        FunctionId.Flow when name is "hysteresis" or "power term" or "highest inlet temperature" or "stored heat" or "setback" => "flow.need",
        _ => function.ToString().ToLowerInvariant(),
    };

    private static void AddTemperature(Action<FunctionId, string, string> add, FunctionId function, TemperatureTable table)
    {
        add(function, "alarm", Figure(table.AlarmC, "°C"));
        add(function, "trip limit", Figure(table.TripC, "°C"));
        add(function, "trip delay", Time(table.DelayMs));
        add(function, "hysteresis", Figure(table.HysteresisK, "K"));
    }

    private static void AddRamps(List<NamedSetting> list, UnitTable unit)
    {
        CoolTable cool = unit.Cool;
        void Add(string name, string value) => list.Add(new(unit.Name, FunctionId.None, unit.Name + ".cool", $"{name} of {unit.Name}", value));
        Add("ramp up", Figure(cool.RampUpKPerMin, "K/min"));
        Add("ramp down (cap)", Figure(cool.RampDownKPerMin, "K/min"));
        Add("signal of COOL", cool.Signal.ToString());
        Add("window of COOL", Time(cool.WindowMs));
        Add("tolerance of COOL", Figure(cool.ToleranceKPerMin, "K/min"));
        Add("alarm of HEAT", Figure(cool.HeatAlarmKPerMin, "K/min"));
        Add("end of after-cooling", Figure(cool.AfterCoolingBelowC, "°C"));
        Add("soak-back", Figure(cool.SoakBackK, "K"));
        Add("blower while heating", Figure(cool.BlowerRunPercent, "%"));
        Add("blower while after-cooling", Figure(cool.BlowerAfterPercent, "%"));
        Add("easing of the blower", Figure(cool.BlowerEasePercentPerSecond, "% per second"));
    }

    private static void AddReaction(List<NamedSetting> list, string unit, ReactionOptions reaction)
    {
        void Add(string name, string value) => list.Add(new(unit, FunctionId.None, unit + ".reaction", $"{name} of {unit}", value));
        Add("reaction data", reaction.Stated ? "stated" : "not stated");
        Add("mass of the wire", Figure(reaction.MassKg, "kg"));
        Add("specific heat of the wire", Figure(reaction.HeatCapacityKJPerKgK, "kJ/(kg K)"));
        Add("diameter of the wire", Figure(reaction.WireMm, "mm"));
        Add("surface load of the wire", Figure(reaction.SurfaceLoadWPerCm2, "W/cm²"));
        Add("density of the wire", Figure(reaction.DensityKgPerM3, "kg/m³"));
        Add("place of the element sensor", reaction.SensorOnWire ? "on the wire" : "sheathed");
        Add("lag of the element sensor", Time(reaction.ElementLagMs));
        Add("lag of the outlet sensor", Time(reaction.OutletLagMs));
        Add("damping of the flow meter", Time(reaction.MeterDampingMs));
        Add("contactor time", Time(reaction.ContactorMs));
        Add("lost answers counted with", reaction.LostAnswers.ToString(CultureInfo.InvariantCulture));
        Add("highest supply voltage", Figure(reaction.SupplyPercent, "%"));
        Add("element over gas at rated power", Figure(reaction.ElementOverGasK, "K"));
    }

    /// <summary>To the millisecond: a rounded time would hide a change.</summary>
    private static string Time(int ms) => string.Create(CultureInfo.InvariantCulture, $"{ms / 1000.0:0.###} s");

    private static string Figure(double value, string unit) => double.IsNaN(value) ? "not stated"
        : double.IsInfinity(value) ? "none"
        : string.Create(CultureInfo.InvariantCulture, $"{value} {unit}").TrimEnd();

    private static string Statement(DatedStatement? statement) =>
        statement is null ? "not stated" : string.Create(CultureInfo.InvariantCulture, $"\"{statement.Text}\", {statement.Date:yyyy-MM-dd}");
}
