using EdgeGuard.Service.Configuration.Maps;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Configuration.Schema;

// The table of every key of the site file: the one place that decides what is known, required, in range and what an
// absent key means. config/site.schema.json and docs/reference/site-file.md are tested against it. Safety limits that
// depend on the plant (minimum flow, proving flow, element and outlet trip, rated power, gas, setpoint) have no default.

/// <summary>The key table of the site file.</summary>
internal static class SiteKeys
{
    public const int MostUnits = 100;

    public static readonly SectionSpec FlowCurve = new("curve",
    [
        Number("temperatureC", -50, 2_000) with { Required = true },
        Number("flowKgPerHour", 0.01, 100_000) with { Required = true },
    ]);

    public static readonly SectionSpec Flow = new("flow",
    [
        Number("limitKgPerHour", 0.01, 100_000) with { Required = true },
        Number("provingKgPerHour", 0.01, 100_000) with { Required = true },
        Number("afterCoolingKgPerHour", 0.01, 100_000),
        Integer("delayMs", 0, 60_000) with { Default = 500 },
        Integer("preFlowMs", 0, 3_600_000) with { Default = 30_000 },
        Integer("hotPreFlowMs", 0, 3_600_000) with { Default = 5_000 },
        Number("hotToColdFlow", 0.2, 1) with { Default = 0.65 },
        Number("hysteresisKgPerHour", 0, 10_000) with { Default = 0 },
        Sections(FlowCurve, 20) with { Required = false },
        new KeySpec("powerTerm", KeyKind.Flag),
        Number("inletHighestC", -50, 1_000) with { Default = 60 },
        Number("storedHeatKjPerK", 0, 1_000) with { Default = 0 },
        Integer("setbackMs", 0, 600_000) with { Default = 0 },
    ]);

    public static readonly SectionSpec Elem = new("elem",
    [
        Number("tripC", 20, 2_000) with { Required = true },
        Number("alarmC", 20, 2_000),
        Number("destructionC", 20, 3_000),
        Integer("delayMs", 0, 60_000) with { Default = 0 },
        Number("hysteresisK", 0.1, 100) with { Default = 5 },
    ]);

    public static readonly SectionSpec Outl = new("outl",
    [
        Number("tripC", 20, 2_000) with { Required = true },
        Number("alarmC", 20, 2_000),
        Integer("delayMs", 0, 60_000) with { Default = 500 },
        Number("hysteresisK", 0.1, 100) with { Default = 5 },
    ]);

    public static readonly SectionSpec Nors = new("nors",
    [
        Number("powerPercent", 1, 100) with { Default = 20 },
        Integer("delayMs", 1_000, 600_000) with { Default = 20_000 },
        Number("slopeKPerMin", 0.1, 1_000) with { Default = 3 },
        Number("fallingKPerMin", -5_000, -1),
    ]);

    public static readonly SectionSpec Resd = new("resd",
    [
        Number("limitPercent", 0.5, 20) with { Default = 3 },
        Integer("blankingMs", 0, 10_000) with { Default = 1_000 },
        Integer("proofMs", 100, 60_000) with { Default = 2_000 },
        Integer("firingCycleMs", 20, 10_000) with { Default = 500 },
    ]);

    public static readonly SectionSpec Cool = new("cool",
    [
        Number("rampUpKPerMin", 0.1, 1_000) with { Default = 30 },
        Number("rampDownKPerMin", 0.1, 1_000) with { Default = 30 },
        Choice("signal", "outletTemperature", "elementTemperature"),
        Integer("windowMs", 1_000, 600_000) with { Default = 60_000 },
        Number("toleranceKPerMin", 0.1, 100) with { Default = 3 },
        Number("heatAlarmKPerMin", 0.1, 5_000) with { Default = 120 },
        Number("afterCoolingBelowC", 30, 500) with { Default = 80 },
        Number("blowerRunPercent", 1, 100) with { Default = 100 },
        Number("blowerAfterPercent", 1, 100),
        Number("blowerEasePercentPerSecond", 0.01, 100) with { Default = 2 },
        Number("soakBackK", 6, 300) with { Default = 30 },
    ]);

    public static readonly SectionSpec Comm = new("comm", [Integer("limitMs", 100, 60_000) with { Default = 1_000 }]);

    public static readonly SectionSpec ModelPoints = new("points",
    [
        Number("flowKgPerHour", 0.01, 100_000) with { Required = true },
        Number("powerKw", 0.01, 1_000) with { Required = true },
        Number("differenceK", 0, 1_000) with { Required = true },
    ]);

    public static readonly SectionSpec Model = new("model",
    [
        Sections(ModelPoints, 20),
        Integer("steadyMinutes", 1, 240) with { Default = 15 },
        Number("steadyK", 0.1, 50) with { Default = 2 },
        Number("powerPercent", 0.1, 20) with { Default = 1 },
        Number("flowPercent", 0.1, 20) with { Default = 2 },
        Number("temperatureK", 0.1, 50) with { Default = 3 },
        Number("modelPercent", 0, 50) with { Default = 5 },
    ]);

    public static readonly SectionSpec Sens = new("sens",
    [
        Integer("delayMs", 0, 60_000) with { Default = 500 },
        Integer("staleMs", 50, 60_000),
        Integer("holdMs", 50, 60_000),
        Integer("frozenMs", 0, 3_600_000) with { Default = 0 },
        Number("excitationPercent", 5, 100) with { Default = 20 },
        Number("slopeMaxKPerSecond", 1, 10_000),
        Integer("noiseMs", 0, 3_600_000) with { Default = 0 },
        Number("noisePercent", 1, 50) with { Default = 10 },
        Section(Model),
    ]);

    public static readonly SectionSpec Voting = new("voting",
    [
        Choice("element", "1oo2", "2oo2", "2oo3"),
        Choice("outlet", "1oo2", "2oo2", "2oo3"),
        Choice("flow", "1oo2", "2oo2", "2oo3"),
        Number("deviationK", 0.1, 1_000) with { Default = 20 },
        Number("deviationKgPerHour", 0.01, 100_000),
        Integer("deviationDelayMs", 0, 600_000) with { Default = 10_000 },
        Integer("degradedMinutes", 0, 10_080) with { Default = 0 },
    ]);

    public static readonly SectionSpec Phas = new("phas",
    [
        Choice("connection", "star", "delta") with { Required = true },
        Number("demandPercent", 5, 100) with { Default = 20 },
        Integer("blockMs", 100, 60_000),
        Number("hardPercent", 1, 200) with { Default = 40 },
        Number("mildPercent", 1, 200) with { Default = 15 },
        Integer("hardDelayMs", 0, 60_000) with { Default = 500 },
        Integer("mildDelayMs", 0, 600_000) with { Default = 10_000 },
        Number("noiseAmpere", 0.01, 1_000) with { Default = 1 },
        Choice("alloy", "FeCrAl 25-5", "FeCrAl 21-6", "FeCrAl 21-6-Nb", "FeCrAl 27-7-Mo2", "NiCr 80-20", "NiCr 60-15"),
    ]);

    public static readonly SectionSpec Leak = new("leak",
    [
        Number("leakageAlarmMilliampere", 0.1, 100_000),
        Number("leakageLimitMilliampere", 0.1, 100_000),
        Number("insulationAlarmKiloohm", 0, 1_000_000) with { Default = 0 },
        Number("insulationLimitKiloohm", 0, 1_000_000) with { Default = 0 },
        Integer("trendDays", 0, 3_650) with { Default = 0 },
        Integer("delayMs", 0, 600_000) with { Default = 5_000 },
    ]);

    public static readonly SectionSpec Bala = new("bala",
    [
        Number("storedHeatKjPerK", 0, 1_000) with { Required = true },
        Number("lossMaxKwPerK", 0.0001, 1) with { Required = true },
        Integer("blockMs", 5_000, 600_000) with { Default = 60_000 },
        Integer("learnBlocks", 2, 10_000) with { Default = 30 },
        Integer("blocks", 1, 100) with { Default = 2 },
        new KeySpec("controlledShutdown", KeyKind.Flag),
        Number("ambientC", -50, 100) with { Default = 25 },
        Number("steadyK", 0.1, 50) with { Default = 2 },
        Number("powerPercent", 0.1, 20) with { Default = 1 },
        Number("flowPercent", 0.1, 20) with { Default = 2 },
        Number("temperatureK", 0.1, 50) with { Default = 3 },
    ]);

    public static readonly SectionSpec Bypass = new("bypass",
    [
        Integer("maxMinutes", 1, RequestLimits.BypassMinutesMax) with { Default = 480 },
        .. BypassFlags.All.Select(f => new KeySpec(f.Name, KeyKind.Flag)),
    ]);

    /// <summary>Range of the values that may be forced; the same keys for every signal.</summary>
    public static readonly SectionSpec ForceRange = new("range",
    [
        Number("min", -1_000_000, 1_000_000) with { Required = true },
        Number("max", -1_000_000, 1_000_000) with { Required = true },
    ]);

    public static readonly SectionSpec Force = new("force",
    [
        Integer("maxMinutes", 1, RequestLimits.ForceMinutesMax) with { Default = 30 },
        new KeySpec("startWhileForced", KeyKind.Flag),
        .. ForcibleRoles.All.Select(r => new KeySpec(r.Name, KeyKind.Section) { Child = ForceRange }),
    ]);

    public static readonly SectionSpec Alarms = new("alarms",
    [
        Integer("maxMinutes", 0, RequestLimits.ShelfMinutesMax) with { Default = 480 },
        new KeySpec("outOfService", KeyKind.Flag),
        .. AlarmFlags.All.Select(f => new KeySpec(f.Name, KeyKind.Flag)),
    ]);

    public static readonly SectionSpec Reaction = new("reaction",
    [
        Number("massKg", 0.01, 10_000),
        Number("heatCapacityKJPerKgK", 0.1, 5) with { Required = true },
        Number("wireMm", 0.1, 100),
        Number("surfaceLoadWPerCm2", 0.1, 100),
        Number("densityKgPerM3", 1_000, 25_000) with { Default = 7_100 },
        Choice("elementSensor", "sheathed", "onWire"),
        Integer("elementLagMs", 0, 600_000) with { Required = true },
        Integer("outletLagMs", 0, 600_000) with { Default = 10_000 },
        Integer("meterDampingMs", 0, 600_000) with { Required = true },
        Integer("contactorMs", 0, 60_000) with { Default = 200 },
        Integer("lostAnswers", 0, 10) with { Default = 1 },
        Number("supplyPercent", 100, 130) with { Default = 110 },
        Number("elementOverGasK", 0, 1_000),
    ]);

    public static readonly SectionSpec HardwiredDevice = new("hardwiredDevice", [RequiredText("name"), RequiredDate("expires")]);

    public static readonly SectionSpec ProofTest = new("proofTest", [RequiredText("record"), RequiredDate("date")]);

    public static readonly SectionSpec ProofTestWaiver = new("proofTestWaiver", [RequiredText("reason"), RequiredDate("expires")]);

    public static readonly SectionSpec WatchdogBridge = new("watchdogBridge", [RequiredText("by"), RequiredDate("expires")]);

    public static readonly SectionSpec Signals = new("signals", [.. RoleFacts.All.Select(r => new KeySpec(r.Name, KeyKind.Text))]);

    public static readonly SectionSpec Commands = new("commands", [.. CommandFacts.All.Select(r => new KeySpec(r.Name, KeyKind.Text))]);

    public static readonly SectionSpec Security = new("security",
    [
        RequiredText("certificate"),
        RequiredText("key"),
        RequiredText("trusted"),
        new KeySpec("serverName", KeyKind.Text),
    ]);

    public static readonly SectionSpec Link = new("links",
    [
        RequiredText("name"),
        Choice("transport", "tcp", "rtuTcp", "serial"),
        new KeySpec("host", KeyKind.Text),
        Integer("port", 1, 65_535) with { Default = 502 },
        new KeySpec("serialPort", KeyKind.Text),
        Integer("baud", 300, 1_000_000),
        Choice("parity", "even", "none", "odd"),
        Integer("stopBits", 1, 2),
        Integer("connectMs", 50, 10_000) with { Default = 1_000 },
        Integer("answerMs", 10, 5_000) with { Default = 200 },
        Integer("pollLeadMs", 1, 900),
        Integer("reconnectMinMs", 10, 10_000) with { Default = 100 },
        Integer("reconnectMaxMs", 100, 60_000) with { Default = 2_000 },
        new KeySpec("zeroTransactionIds", KeyKind.Flag),
        new KeySpec("localEcho", KeyKind.Flag),
        Section(Security),
    ]);

    public static readonly SectionSpec Device = new("devices",
    [
        RequiredText("name"),
        RequiredText("link"),
        Integer("unitId", 1, 255) with { Required = true },
        RequiredText("map"),
        Integer("maxRegisters", 1, 125) with { Default = 125 },
        Integer("maxGap", 0, 124) with { Default = 8 },
        Number("answerDelayMs", 0, 2_000),
        new KeySpec("settings", KeyKind.Text),
    ]);

    public static readonly SectionSpec Unit = new("units",
    [
        RequiredText("name"),
        Choice("mode", "observe", "enforce"),
        Choice("finalElement", "A", "B", "C") with { Required = true },
        RequiredText("controller"),
        new KeySpec("meter", KeyKind.Text),
        Choice("gas", [.. GasNames.All]) with { Required = true },
        Number("ratedPowerKw", 0.1, 1_000) with { Required = true },
        Number("rampPowerKw", 0.1, 1_000),
        Number("setpointC", 20, 1_400) with { Required = true },
        Number("tripSetpointC", 0, 200) with { Default = 0 },
        Integer("watchdogMs", 100, 60_000) with { Default = 2_000 },
        new KeySpec("remoteReset", KeyKind.Flag),
        Integer("repeatedResetsPerHour", 1, 20) with { Default = 3 },
        Section(Flow) with { Required = true },
        Section(Elem) with { Required = true },
        Section(Outl) with { Required = true },
        Section(Nors),
        Section(Resd),
        Section(Cool),
        Section(Comm),
        Section(Sens),
        Section(Voting),
        Section(Phas),
        Section(Leak),
        Section(Bala),
        Section(Bypass),
        Section(Force),
        Section(Alarms),
        Section(Reaction),
        Section(Signals),
        Section(Commands),
        Section(HardwiredDevice),
        Section(ProofTest),
        Section(ProofTestWaiver),
        Section(WatchdogBridge),
    ]);

    public static readonly SectionSpec Publication = new("publication",
    [
        new KeySpec("enabled", KeyKind.Flag),
        Integer("port", 1, 65_535) with { Default = 4_840 },
        new KeySpec("bind", KeyKind.Text),
        new KeySpec("allowNone", KeyKind.Flag),
        Integer("memoryLimitMb", 64, 16_384) with { Default = 512 },
        new KeySpec("discoveryServer", KeyKind.Text),
        Integer("registerSeconds", 10, 600) with { Default = 300 },
    ]);

    public static readonly SectionSpec Site = new("site",
    [
        new KeySpec("$schema", KeyKind.Text),
        RequiredText("site"),
        Integer("scanMs", 50, 1_000) with { Default = 100 },
        new KeySpec("dataFolder", KeyKind.Text),
        new KeySpec("ringFolder", KeyKind.Text),
        Number("supplyLimitKw", 0.1, 100_000),
        Integer("journalFailureMs", 1_000, 600_000) with { Default = 10_000 },
        Integer("keepSeconds", 1, 3_600) with { Default = 60 },
        Section(Publication),
        Sections(Link, MostUnits),
        Sections(Device, 4 * MostUnits),
        Sections(Unit, MostUnits),
    ]);

    /// <summary>Every kind of section, for the tests of schema and documentation.</summary>
    public static readonly IReadOnlyList<SectionSpec> All =
    [
        Site, Publication, Link, Security, Device, Unit, Flow, Elem, Outl, Nors, Resd, Cool, FlowCurve, Comm, Sens, Model, ModelPoints, Voting, Phas, Leak, Bala, Bypass, Force, ForceRange, Alarms, Reaction, Signals, Commands,
        HardwiredDevice, ProofTest, ProofTestWaiver, WatchdogBridge,
    ];

    private static KeySpec Number(string name, double min, double max) => new(name, KeyKind.Number) { Min = min, Max = max };

    private static KeySpec Integer(string name, int min, int max) => new(name, KeyKind.Integer) { Min = min, Max = max };

    private static KeySpec Choice(string name, params string[] choices) => new(name, KeyKind.Choice) { Choices = choices };

    private static KeySpec RequiredText(string name) => new(name, KeyKind.Text) { Required = true };

    private static KeySpec RequiredDate(string name) => new(name, KeyKind.Date) { Required = true };

    private static KeySpec Section(SectionSpec child) => new(child.Name, KeyKind.Section) { Child = child };

    private static KeySpec Sections(SectionSpec child, int most) =>
        new(child.Name, KeyKind.Sections) { Child = child, Max = most, Required = true };
}
