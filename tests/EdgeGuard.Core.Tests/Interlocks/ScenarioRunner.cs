using System.Globalization;
using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>
/// Runs the script of a scenario file. Commands, one a line:
/// <c>site UNIT[:observe | :VOTE] …</c>, <c>limit KW</c> (before the first run), <c>set UNIT name=value …</c>,
/// <c>run SCANS</c>, <c>skip SCANS</c> (missed before the next one), <c>until UNIT state=… SCANS-MAX</c>, <c>bring UNIT STATE</c> (reset and start with everything in
/// order), <c>request UNIT KIND [remote | FUNCTION [MINUTES]]</c>,
/// <c>force UNIT SIGNAL=VALUE MINUTES</c>, <c>unforce UNIT SIGNAL</c>, <c>journal HEALTH</c>, <c>durable follows|stands|ahead</c>, <c>quiet</c>
/// and <c>log</c> (what is logged), <c>expect UNIT name=value …</c>. "#" begins a comment.
/// </summary>
public sealed class ScenarioRunner
{
    private SiteTable _site = TestSite.Of(TestSite.N1());
    private TestHall? _hall;
    private ScenarioLog? _log;
    private bool _quiet;

    private TestHall Hall => _hall ??= Open();

    /// <summary>Runs all lines and returns the log.</summary>
    public string Run(IEnumerable<string> lines)
    {
        int number = 0;
        foreach (string line in lines)
        {
            number++;
            string[] words = line.Split('#')[0].Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
            if (words.Length > 0)
            {
                try
                {
                    Command(words);
                }
                catch (Exception e) when (e is InvalidOperationException or FormatException or ArgumentException)
                {
                    throw new InvalidOperationException($"line {number} \"{line}\": {e.Message}", e);
                }
            }
        }

        return _log?.Text ?? "";
    }

    private static double Number(string text) => double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);

    private TestHall Open()
    {
        var hall = new TestHall(_site);
        _log = new ScenarioLog(_site);
        hall.AfterStep = h =>
        {
            if (!_quiet)
            {
                _log.Take(h);
            }
        };
        return hall;
    }

    private int Unit(string name)
    {
        int index = _site.Units.Select((u, i) => u.Name == name ? i : -1).Max();
        return index >= 0 ? index : throw new InvalidOperationException($"no unit {name}");
    }

    private void Command(string[] words)
    {
        switch (words[0])
        {
            case "site":
                _site = TestSite.Of([.. words.Skip(1).Select(Maker)]);
                break;
            case "limit":
                _site = _site with { SupplyLimitKw = Number(words[1]) };
                break;
            case "set":
                Each(words, (name, value) => Set(Hall.Cabinets[Unit(words[1])], name, value));
                break;
            case "run":
                Hall.Run(int.Parse(words[1], CultureInfo.InvariantCulture));
                break;
            case "skip":
                Hall.Skip(int.Parse(words[1], CultureInfo.InvariantCulture));
                break;
            case "until":
                UnitState wanted = Enum.Parse<UnitState>(words[2].Split('=')[1]);
                int unit = Unit(words[1]);
                Hall.RunUntil(h => h[unit].State == wanted, int.Parse(words[3], CultureInfo.InvariantCulture));
                break;
            case "bring":
                Hall.BringTo(Unit(words[1]), Enum.Parse<UnitState>(words[2]));
                break;
            case "request":
                Request(Hall, Unit(words[1]), Enum.Parse<RequestKind>(words[2]), words[3..]);
                break;
            case "force":
                string[] forced = words[2].Split('=');
                Hall.Force(Unit(words[1]), Enum.Parse<SignalRole>(forced[0]), Number(forced[1]), ushort.Parse(words[3], CultureInfo.InvariantCulture));
                break;
            case "unforce":
                Hall.Unforce(Unit(words[1]), Enum.Parse<SignalRole>(words[2]));
                break;
            case "journal":
                Hall.Scan.Journal = Enum.Parse<JournalHealth>(words[1]);
                break;
            case "durable":
                Hall.DurableFollows = words[1] == "follows";
                Hall.Scan.DurableEvent = words[1] == "ahead" ? 1_000_000 : Hall.Scan.DurableEvent;
                break;
            case "quiet" or "log":
                _ = Hall;
                _quiet = words[0] == "quiet";
                break;
            case "expect":
                Each(words, (name, value) => Expect(Hall[Unit(words[1])], name, value));
                break;
            default:
                throw new InvalidOperationException($"unknown command {words[0]}");
        }
    }

    private static void Request(TestHall hall, int unit, RequestKind kind, string[] further)
    {
        if (further.Length == 0 || further[0] == "remote")
        {
            hall.Request(unit, kind, further.Length > 0);
            return;
        }

        ushort minutes = further.Length > 1 ? ushort.Parse(further[1], CultureInfo.InvariantCulture) : (ushort)0;
        hall.Request(unit, kind, Enum.Parse<FunctionId>(further[0]), minutes);
    }

    private static Func<int, UnitTable> Maker(string name)
    {
        string[] parts = name.Split(':');
        UnitMode mode = parts.Length > 1 && parts[1] == "observe" ? UnitMode.Observe : UnitMode.Enforce;
        return parts[0] switch
        {
            "N-1" => TestSite.N1(mode),
            "A-1" => TestSite.A1(mode),
            "F-1" => TestSite.F1(),
            "N-2" => TestSite.StartsForced(),
            "M-1" => TestSite.M1(),
            "S-1" => TestSite.S1(),
            "X-1" => TestSite.X1(parts.Length > 1 ? Enum.Parse<VotingScheme>(parts[1]) : VotingScheme.TwoOutOfThree),
            _ => throw new InvalidOperationException($"no unit {name}"),
        };
    }

    private static void Each(string[] words, Action<string, string> act)
    {
        foreach (string pair in words.Skip(2))
        {
            string[] parts = pair.Split('=');
            act(parts[0], parts[1]);
        }
    }

    private static void Set(TestCabinet cabinet, string name, string value)
    {
        switch (name)
        {
            case "element": cabinet.Element = Number(value); break;
            case "outlet": cabinet.Outlet = Number(value); break;
            case "flow": cabinet.Flow = Number(value); break;
            case "power": cabinet.Power = Number(value); break;
            case "residual": cabinet.Residual = Number(value); break;
            case "output": cabinet.Output = Number(value); break;
            case "key": cabinet.Key = value == "supervised"; break;
            case "chain": cabinet.Chain = value == "closed"; break;
            case "watchdog": cabinet.Watchdog = Number(value); break;
            case "alive": cabinet.WatchdogWorks = value == "yes"; break;
            case "othertoken": cabinet.OtherToken = ushort.Parse(value, CultureInfo.InvariantCulture); break;
            case "otherevery": cabinet.OtherEvery = int.Parse(value, CultureInfo.InvariantCulture); break;
            case "link": cabinet.Link = Enum.Parse<ReadResult>(value); break;
            case "stuck": cabinet.Stuck = value == "yes"; break;
            case "feedback": cabinet.Feedback = Enum.Parse<CommandFeedback>(value); break;
            case "elementslope": cabinet.SlopeElement = Number(value); break;
            case "outletslope": cabinet.SlopeOutlet = Number(value); break;
            case "inlet": cabinet.Inlet = Number(value); break;
            case "button": cabinet.Button = value == "pressed"; break;
            case var _ when Enum.TryParse(name, out SignalRole role) && role is >= SignalRole.ElementTemperature2 and <= SignalRole.Insulation:
                cabinet.Further[role] = Number(value);
                break;
            default: cabinet[Enum.Parse<CommandRole>(name)] = Number(value); break;
        }
    }

    private static string Alarm(FunctionId id) => id == AlarmIds.Trip ? "Trip" : id.ToString();

    private static void Expect(UnitDecision unit, string name, string value)
    {
        string found = name switch
        {
            "state" => unit.State.ToString(),
            "firstout" => unit.FirstOut.ToString(),
            "permit" => unit.Permit ? "yes" : "no",
            "pending" => unit.PendingDurable ? "yes" : "no",
            "held" => unit.RampHeld ? "yes" : "no",
            "provedoff" => unit.PowerProvedOff ? "yes" : "no",
            "led" => unit.LedSetpointC.ToString("0.#", CultureInfo.InvariantCulture),
            "bypassed" => string.Join('+', Enum.GetValues<FunctionId>().Where(f => unit.Functions[(int)f].Bypassed)),
            "forced" => string.Join('+', unit.Forced.Where(f => f.Active).Select(f => f.Role)),
            "forceddemands" => unit.Forced.Sum(f => f.Demands).ToString(CultureInfo.InvariantCulture),
            "shown" => string.Join('+', Enum.GetValues<FunctionId>().Where(f => AlarmDiagram.IsOpen(unit.Alarms[(int)f].State) && unit.Alarms[(int)f].State != AlarmState.Normal).Select(Alarm)),
            "shelved" => string.Join('+', Enum.GetValues<FunctionId>().Where(f => unit.Alarms[(int)f].State == AlarmState.Shelved).Select(Alarm)),
            "outofservice" => string.Join('+', Enum.GetValues<FunctionId>().Where(f => unit.Alarms[(int)f].State == AlarmState.OutOfService).Select(Alarm)),
            "suppressed" => string.Join('+', Enum.GetValues<FunctionId>().Where(f => unit.Alarms[(int)f] is { State: AlarmState.SuppressedByDesign, Condition: true }).Select(Alarm)),
            "often" => unit.ResetsTooOften ? "yes" : "no",
            "trips" => unit.TripCount.ToString(CultureInfo.InvariantCulture),
            "blower" => unit.Commands[(int)CommandRole.BlowerDemand].Value.ToString("0.#", CultureInfo.InvariantCulture),
            _ => unit.Functions[(int)Enum.Parse<FunctionId>(name)].State.ToString(),
        };
        if (found != value)
        {
            throw new InvalidOperationException($"{name} is {found}, expected {value}");
        }
    }
}
