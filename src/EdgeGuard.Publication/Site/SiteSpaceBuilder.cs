using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Builds the nodes of a site. NodeIds are texts made of names that people gave (`N-1/OutletTemperature`), never of an
/// index, so that they stay the same when a unit is added. What concerns the guard begins with a slash, which no unit's
/// name can.
/// </summary>
internal sealed class SiteSpaceBuilder(SpaceBuilder builder, SiteTable site, IReadOnlyList<string> linkNames, IReadOnlyDictionary<string, ProofTestFacts> proofTests)
{
    private static readonly NodeId Text = new(StandardIds.String);
    private static readonly NodeId Number = new(StandardIds.Double);
    private static readonly NodeId Flag = new(StandardIds.Boolean);
    private static readonly NodeId Index = new(StandardIds.UInt32);
    private static readonly NodeId Whole = new(StandardIds.Int32);
    private static readonly NodeId Count = new(8); // Int64, OPC 10000-6, annex A

    public SiteNodes Build()
    {
        ObjectNode folder = builder.AddFolder(builder.Objects, "/site", site.Name, "The site: its units and the guard that watches them");
        GuardNodes guard = BuildGuard(folder);
        var units = new UnitNodes[site.Units.Count];
        for (int i = 0; i < units.Length; i++)
        {
            units[i] = BuildUnit(folder, site.Units[i]);
        }

        return new SiteNodes(folder, guard, units, new LinkSpaceBuilder(builder, site.ScanMs).Build(folder, linkNames), new AlarmNodes(builder, folder, site.ScanMs));
    }

    private GuardNodes BuildGuard(Node folder)
    {
        ObjectNode guard = builder.AddFolder(folder, "/guard", "Guard", "The process that decides; it goes on without this server");
        return new GuardNodes
        {
            SitePower = builder.AddAnalog(folder, Spec("/site/SitePower", "SitePower", Number, "Sum of the measured power of all units"), "kW", 0, double.IsFinite(site.SupplyLimitKw) ? site.SupplyLimitKw : site.Units.Sum(static u => u.RatedPowerKw)),
            Scans = Counter(guard, "Scans", "Scans since the guard started"),
            Heartbeat = builder.AddVariable(guard, Spec("/guard/Heartbeat", "Heartbeat", new NodeId(StandardIds.UtcTime), "Time of the last scan")),
            LatenessLast = builder.AddAnalog(guard, Spec("/guard/LatenessLast", "LatenessLast", Number, "How late the last scan began"), "ms"),
            LatenessMax = builder.AddAnalog(guard, Spec("/guard/LatenessMax", "LatenessMax", Number, "The latest a scan has begun since start"), "ms"),
            Overruns = Counter(guard, "Overruns", "Scans that did not end before the next was due"),
            Allocated = Counter(guard, "AllocatedBytes", "Bytes the guard process has allocated since start"),
            Journal = builder.AddMultiState(guard, Spec("/guard/Journal", "Journal", Index, "Health of the journal"), Enum.GetNames<JournalHealth>()),
            DurableEvent = Counter(guard, "DurableEvent", "Events up to this number are safe on disk"),
            TailDropped = Counter(guard, "TailDropped", "Scans the raw recording has dropped"),
            Events = Counter(guard, "Events", "Events since the guard started"),
            RunId = builder.AddVariable(guard, Spec("/guard/RunId", "RunId", Text, "Another value: the guard was started again")),
            JournalHeadNumber = Counter(guard, "JournalHeadNumber", "Number of the newest line of the journal"),
            JournalHeadHash = builder.AddVariable(guard, Spec("/guard/JournalHeadHash", "JournalHeadHash", Text, "Hash of the newest line of the journal; a history of it witnesses the journal")),
            Link = builder.AddMultiState(guard, Spec("/guard/Link", "Link", Index, "How this server sees the guard"), Enum.GetNames<GuardLink>()),
            RecordsLost = Counter(guard, "RecordsLost", "Scans this server was too late to read"),
        };
    }

    private UnitNodes BuildUnit(Node folder, UnitTable unit)
    {
        ObjectNode node = builder.AddFolder(folder, unit.Name, unit.Name, $"Heater of {unit.RatedPowerKw:0.###} kW, final element class {unit.FinalElement}");
        VariableNode mode = builder.AddVariable(node, Spec(unit.Name + "/Mode", "Mode", Text, "Whether decisions are written to the cabinet"));
        mode.Set(new Variant(unit.Mode.ToString()), builder.Space.StartTime);
        BuildProofTest(node, unit.Name, proofTests.GetValueOrDefault(unit.Name) ?? new ProofTestFacts(null, null));
        return new UnitNodes
        {
            State = builder.AddMultiState(node, Spec(unit.Name + "/State", "State", Index, "State of the unit"), Enum.GetNames<UnitState>()),
            FirstOut = builder.AddMultiState(node, Spec(unit.Name + "/FirstOut", "FirstOut", Index, "Function that tripped first"), Codes()),
            Permit = builder.AddTwoState(node, Spec(unit.Name + "/Permit", "Permit", Flag, "Power is permitted"), "permitted", "not permitted"),
            PendingDurable = builder.AddTwoState(node, Spec(unit.Name + "/PendingDurable", "PendingDurable", Flag, "A permit waits for the journal"), "waiting", "not waiting"),
            RampHeld = builder.AddTwoState(node, Spec(unit.Name + "/RampHeld", "RampHeld", Flag, "The ramp is held by the shared supply"), "held", "free"),
            PowerProvedOff = builder.AddTwoState(node, Spec(unit.Name + "/PowerProvedOff", "PowerProvedOff", Flag, "Power is proved off"), "proved off", "not proved"),
            LedSetpoint = builder.AddAnalog(node, Spec(unit.Name + "/LedSetpoint", "LedSetpoint", Number, "Setpoint as the guard leads it"), "°C", 0, unit.Elem.TripC),
            ElementSlope = builder.AddAnalog(node, Spec(unit.Name + "/ElementSlope", "ElementSlope", Number, "Slope of the element temperature"), "K/min"),
            CoolSlope = builder.AddAnalog(node, Spec(unit.Name + "/CoolSlope", "CoolSlope", Number, "Slope of the signal that COOL judges"), "K/min"),
            TripCount = builder.AddVariable(node, Spec(unit.Name + "/TripCount", "TripCount", new NodeId(StandardIds.Int32), "Trips since the time of CountedSince")),
            LastTrip = builder.AddMultiState(node, Spec(unit.Name + "/LastTrip", "LastTrip", Index, "Function of the latest trip; stays after the reset and over a restart"), Codes()),
            LastTripClass = builder.AddMultiState(node, Spec(unit.Name + "/LastTripClass", "LastTripClass", Index, "What a person found the latest trip to have been"), Enum.GetNames<TripClass>()),
            ResetsTooOften = builder.AddTwoState(node, Spec(unit.Name + "/ResetsTooOften", "ResetsTooOften", Flag, "Resets came more often within an hour than the site allows: find the cause first"), "too often", "as usual"),
            FunctionsEvaluated = builder.AddVariable(node, Spec(unit.Name + "/FunctionsEvaluated", "FunctionsEvaluated", new NodeId(StandardIds.Int32), "Functions evaluated in the last scan")),
            TimeLeft = builder.AddAnalog(node, Spec(unit.Name + "/TimeLeft", "TimeLeft", Number, "Until the ramp that is led now reaches its end; no value while nothing is led"), "s"),
            TripAlarm = builder.AddMultiState(node, Spec(unit.Name + "/TripAlarm", "TripAlarm", Index, "State of the alarm of the trip, after ISA-18.2"), Enum.GetNames<AlarmState>()),
            TripHidden = BuildTripHidden(node, unit),
            Use = new UseNodes(builder, node, unit.Name, site.ScanMs),
            Signals = BuildSignals(node, unit),
            Forces = new ForceSpaceBuilder(builder, site.ScanMs).Build(node, unit),
            Interlocks = BuildInterlocks(node, unit),
            Commands = BuildCommands(node, unit),
        };
    }

    private void BuildProofTest(Node node, string unit, ProofTestFacts facts)
    {
        Set(builder.AddVariable(node, new VariableSpec(unit + "/ProofTested", "ProofTested", new NodeId(StandardIds.UtcTime)) { Description = "Day of the latest proof test of the interlocks, as the site file states it" }), facts.Tested);
        Set(builder.AddVariable(node, new VariableSpec(unit + "/ProofTestDue", "ProofTestDue", new NodeId(StandardIds.UtcTime)) { Description = "Day by which the interlocks have to be proof-tested again" }), facts.Due);
    }

    private void Set(VariableNode node, DateOnly? day) => node.Set(day is { } known
        ? new DataValue(new Variant(UaDateTime.FromUtc(known.ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc))), OpcUa.StatusCode.Good, builder.Space.StartTime)
        : new DataValue(default, OpcUa.StatusCode.BadNoData, builder.Space.StartTime));

    private VariableNode?[] BuildSignals(Node node, UnitTable unit)
    {
        ObjectNode folder = builder.AddFolder(node, unit.Name + "/signals", "Signals", "What was read from the cabinet, with its quality; a forced value has the status Good_LocalOverride");
        var nodes = new VariableNode?[SignalRoles.Count];
        foreach (SignalTable signal in unit.Signals)
        {
            string name = signal.Role.ToString();
            VariableSpec spec = Spec($"{unit.Name}/{name}", name, SignalFacts.States(signal.Role) is null ? Number : Flag, SignalFacts.Description(signal.Role)) with { Definition = SignalFacts.Text(signal) };
            nodes[(int)signal.Role] ??= SignalFacts.States(signal.Role) is { } states
                ? builder.AddTwoState(folder, spec, states.True, states.False)
                : builder.AddAnalog(folder, spec, SignalFacts.Unit(signal.Role), signal.RangeMin, signal.RangeMax);
        }

        return nodes;
    }

    private InterlockNodes?[] BuildInterlocks(Node node, UnitTable unit)
    {
        ObjectNode folder = builder.AddFolder(node, unit.Name + "/interlocks", "Interlocks", "Supervisory software interlocks; a supplement to hardwired safety, never its replacement");
        var nodes = new InterlockNodes?[FunctionIds.Count];
        string[] verdicts = Enum.GetNames<FunctionState>();
        for (int id = 1; id < nodes.Length; id++)
        {
            FunctionText text = FunctionTexts.Of((FunctionId)id);
            string at = $"{unit.Name}/{text.Code}";
            ObjectNode interlock = builder.AddObject(folder, at, text.Code, new NodeId(StandardIds.BaseObjectType), text.Title);
            nodes[id] = new InterlockNodes(
                builder.AddMultiState(interlock, Spec(at + "/State", "State", Index, "Verdict; NotGood votes to trip"), verdicts),
                builder.AddAnalog(interlock, Spec(at + "/Value", "Value", Number, "Value judged"), text.Unit),
                builder.AddAnalog(interlock, Spec(at + "/Limit", "Limit", Number, "Limit in force"), text.Unit),
                builder.AddMultiState(interlock, Spec(at + "/Alarm", "Alarm", Index, "State of its alarm, after ISA-18.2"), Enum.GetNames<AlarmState>()),
                BuildCounts(interlock, at),
                FunctionIds.MayBeBypassed((FunctionId)id) ? BuildBypass(interlock, at) : null,
                MayBeHidden(unit, (FunctionId)id) ? BuildHidden(interlock, at) : null);
        }

        return nodes;
    }

    private CountNodes BuildCounts(Node interlock, string at) => new(
        builder.AddVariable(interlock, Spec(at + "/Demands", "Demands", Whole, "Demands, bypassed ones not")),
        builder.AddVariable(interlock, Spec(at + "/Trips", "Trips", Whole, "Trips with this function first")),
        builder.AddVariable(interlock, Spec(at + "/BypassedDemands", "BypassedDemands", Whole, "Demands while it was bypassed")),
        builder.AddVariable(interlock, Spec(at + "/SpuriousTrips", "SpuriousTrips", Whole, "Trips of this function that a person found to be spurious")),
        builder.AddVariable(interlock, Spec(at + "/ForcedDemands", "ForcedDemands", Whole, "Demands of real values that a forced one kept from taking effect")));

    private BypassNodes BuildBypass(Node interlock, string at) => new(
        builder.AddTwoState(interlock, Spec(at + "/Bypassed", "Bypassed", Flag, "Its trip is taken away for a time; it goes on being judged"), "bypassed", "in force"),
        builder.AddVariable(interlock, Spec(at + "/BypassedBy", "BypassedBy", Text, "Who asked for the bypass; no value while there is none")),
        builder.AddVariable(interlock, Spec(at + "/BypassedUntil", "BypassedUntil", new NodeId(StandardIds.UtcTime), "When the bypass expires by itself; no value while there is none")));

    /// <summary>By a person or by the design; what can never be hidden has nothing to tell of it.</summary>
    private static bool MayBeHidden(UnitTable unit, FunctionId alarm) => unit.Shelf.MayHide(alarm) || SuppressionRules.Of(alarm) != AlarmSuppression.None;

    private HiddenNodes? BuildTripHidden(Node node, UnitTable unit)
    {
        string at = $"{unit.Name}/{AlarmTexts.Trip}";
        return MayBeHidden(unit, AlarmIds.Trip)
            ? BuildHidden(builder.AddObject(node, at, AlarmTexts.Trip, new NodeId(StandardIds.BaseObjectType), "What is hidden of the alarm of the trip itself; its state is TripAlarm"), at)
            : null;
    }

    private HiddenNodes BuildHidden(Node owner, string at) => new(
        builder.AddVariable(owner, Spec(at + "/ShelvedUntil", "ShelvedUntil", new NodeId(StandardIds.UtcTime), "When its alarm is shown again by itself; no value while it is not on the shelf")),
        builder.AddVariable(owner, Spec(at + "/HiddenBy", "HiddenBy", Text, "Who shelved its alarm or took it out of service; no value while nobody has")),
        builder.AddVariable(owner, Spec(at + "/HiddenReason", "HiddenReason", Text, "Why its alarm is hidden, by a person or by the design; no value while it is shown")));

    private VariableNode?[] BuildCommands(Node node, UnitTable unit)
    {
        ObjectNode folder = builder.AddFolder(node, unit.Name + "/commands", "Commands", "What the guard wants written to the cabinet");
        var nodes = new VariableNode?[CommandRoles.Count];
        foreach (CommandTable command in unit.Commands)
        {
            string name = command.Role.ToString();
            nodes[(int)command.Role] ??= builder.AddAnalog(folder, Spec($"{unit.Name}/commands/{name}", name, Number, SignalFacts.Description(command.Role)), SignalFacts.Unit(command.Role));
        }

        return nodes;
    }

    private VariableNode Counter(Node parent, string name, string description) => builder.AddVariable(parent, Spec("/guard/" + name, name, Count, description));

    private VariableSpec Spec(string id, string name, NodeId dataType, string? description) => new(id, name, dataType) { Description = description, MinimumSamplingIntervalMs = site.ScanMs };

    private static string[] Codes()
    {
        string[] codes = new string[FunctionIds.Count];
        for (int id = 0; id < codes.Length; id++)
        {
            codes[id] = id == 0 ? "none" : FunctionTexts.Of((FunctionId)id).Code;
        }

        return codes;
    }
}
