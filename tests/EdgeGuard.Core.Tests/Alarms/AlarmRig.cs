using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Alarms;

/// <summary>The alarms of one unit with verdicts, signals and state as the test says, without the functions behind them.</summary>
internal sealed class AlarmRig
{
    private readonly UnitMemory _memory;
    private readonly EventSink _sink = new();
    private readonly ScanOutput _output = new(1);
    private readonly RawScan _raw;

    public AlarmRig(UnitMode mode = UnitMode.Enforce)
    {
        SiteTable site = Interlocks.TestSite.Of(i => Interlocks.TestSite.X1()(i) with { Mode = mode, Shelf = new ShelfTable { OutOfService = true, Marked = Enum.GetValues<FunctionId>() } });
        _raw = new RawScan([.. site.BlockWordCounts], 1) { Journal = JournalHealth.Healthy };
        _memory = new UnitMemory(site, 0) { Raw = _raw, State = UnitState.Ready, FirstOut = FunctionId.None, Scan = -1 };
        foreach (SignalRole role in Every)
        {
            Set(role, StatusCode.Good);
        }
    }

    /// <summary>Every signal there is.</summary>
    public static SignalRole[] Every { get; } = [.. Enumerable.Range(0, SignalRoles.Count).Select(i => (SignalRole)i)];

    public UnitDecision Decision => _output.Units[0];

    /// <summary>The unit has raised as many events as it may before the alarms are stepped.</summary>
    public bool FullSink { get; set; }

    /// <summary>Events of the latest scan with this id.</summary>
    public int Count(EventId id) => _output.Events.Take(_output.EventCount).Count(e => e.Id == id);

    /// <summary>Verdict of COMM; a demand unless the test says otherwise.</summary>
    public FunctionState Comm { get; set; } = FunctionState.Demand;

    public void Set(SignalRole role, uint status) => Decision.Image[role] = new SignalValue { Known = true, Status = status, Value = 1 };

    public void Lose(params SignalRole[] roles)
    {
        foreach (SignalRole role in roles)
        {
            Set(role, StatusCode.UncertainNoCommunicationLastUsableValue);
        }
    }

    public void Trip(FunctionId firstOut) => (_memory.State, _memory.FirstOut) = (UnitState.Tripped, firstOut);

    /// <summary>A person hides an alarm, where the state says so.</summary>
    public void Hide(FunctionId alarm, AlarmState state)
    {
        RequestKind kind = state switch { AlarmState.Shelved => RequestKind.Shelve, AlarmState.OutOfService => RequestKind.RemoveFromService, _ => RequestKind.None };
        if (kind != RequestKind.None)
        {
            Begin();
            _memory.Alarms.Act(_memory, _sink, new OperatorRequest { Kind = kind, Function = alarm, Minutes = 60 });
        }
    }

    /// <summary>One scan in which this function alone demands, COMM beside it as stated.</summary>
    public void Step(FunctionId function, Finding finding = Finding.None)
    {
        Begin();
        for (int room = FullSink ? _sink.Room : 0; room > 0; room--)
        {
            _sink.Raise(EventId.AlarmActive, FunctionId.Heat);
        }

        _memory.Scan++;
        for (int i = 0; i < FunctionIds.Count; i++)
        {
            Decision.Functions[i] = new FunctionStatus { State = FunctionState.Healthy, SinceScan = -1 };
        }

        Decision.Functions[(int)FunctionId.Comm].State = Comm;
        if (function != FunctionId.None)
        {
            Decision.Functions[(int)function].State = FunctionState.Demand;
            Decision.Functions[(int)function].Finding = finding;
        }

        _memory.Alarms.Step(_memory, Decision, _sink);
    }

    public bool IsSuppressed(FunctionId alarm) => Decision.Alarms[(int)alarm] is { State: AlarmState.SuppressedByDesign, Condition: true };

    private void Begin()
    {
        _sink.BeginScan(_raw, _output);
        _sink.BeginUnit(0);
    }
}
