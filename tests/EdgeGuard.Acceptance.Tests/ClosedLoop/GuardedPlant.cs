using EdgeGuard.Core;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Service.Configuration;
using EdgeGuard.VirtualPlant;
using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Ledger;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.Acceptance.Tests.ClosedLoop;

/// <summary>
/// The core of the guard on a loaded site and the virtual plant in one thread, register for register as over Modbus but
/// without sockets: an hour of plant takes a second, so that many courses can be compared. The plant's ledger judges.
/// </summary>
internal sealed class GuardedPlant
{
    private const long StartUtcMs = 1_767_592_800_000; // 2026-01-05 06:00

    private readonly SiteConfiguration _site;
    private readonly Guard _guard;
    private readonly RawScan _scan;
    private readonly ScanOutput _output;
    private readonly IModbusDevice[][] _devices;
    private readonly HashSet<EventId> _heard = [];
    private long _next;
    private long _lastEvent;
    private long _requestId;

    public GuardedPlant(SiteConfiguration site, IReadOnlyList<PlantProfile> profiles)
    {
        _site = site;
        Plant = new Plant(profiles, new DateTime(2026, 1, 5, 6, 0, 0, DateTimeKind.Utc));
        _guard = new Guard(site.Table);
        _scan = new RawScan([.. site.Table.BlockWordCounts], site.Table.Units.Count);
        _output = new ScanOutput(site.Table.Units.Count);
        _devices = [.. Plant.Cabinets.Select(static c => new IModbusDevice[] { new ControllerDevice(c), new MeterDevice(c) })];
        Assert.All(site.Blocks, static b => Assert.Equal(1, b.EveryScans));
    }

    public Plant Plant { get; }

    public Cabinet Cabinet => Plant.Cabinets[0];

    /// <summary>Settings of the first unit.</summary>
    public UnitTable Table => _site.Table.Units[0];

    public UnitDecision Decision => _output.Units[0];

    /// <summary>Called after each scan.</summary>
    public Action? AfterScan { get; set; }

    public UnitLedgerReport Ledger => Cabinet.Ledger.Report();

    public double Seconds => Plant.NowMs / 1000.0;

    /// <summary>UTC of the latest scan, ms since 1970-01-01.</summary>
    public long UtcMs => StartUtcMs + Plant.NowMs + SkippedUtcMs;

    /// <summary>Time that the wall clock went on while nothing was looked at, ms.</summary>
    public long SkippedUtcMs { get; set; }

    /// <summary>True when the guard told this event of any unit.</summary>
    public bool Heard(EventId id) => _heard.Contains(id);

    /// <summary>One scan: the plant goes on, the guard reads, decides and writes.</summary>
    public void Scan()
    {
        Plant.Advance(_site.Table.ScanMs);
        _scan.Scan = _next++;
        _scan.UtcUnixMs = UtcMs;
        _scan.Clock = ClockQuality.Even;
        _scan.Journal = JournalHealth.Healthy;
        _scan.DurableEvent = _lastEvent;
        Read();
        _guard.Step(_scan, _output);
        for (int i = 0; i < _output.EventCount; i++)
        {
            _lastEvent = _output.Events[i].Sequence;
            _heard.Add(_output.Events[i].Id);
        }

        Write();
        AfterScan?.Invoke();
    }

    public void Run(double seconds)
    {
        for (double end = Seconds + seconds; Seconds < end;)
        {
            Scan();
        }
    }

    public void Until(Func<GuardedPlant, bool> reached, double limitS)
    {
        double end = Seconds + limitS;
        while (!reached(this))
        {
            Assert.True(Seconds < end, $"not reached in {limitS} s: {Decision.State}, first out {Decision.FirstOut}, outlet {Cabinet.OutletIndicatedC:F1} °C");
            Scan();
        }
    }

    /// <summary>A request of a person, by default to the first unit, taken with the next scan.</summary>
    public void Ask(RequestKind kind, int unit = 0)
    {
        _scan.Requests[unit] = new OperatorRequest { Kind = kind, Id = ++_requestId };
        Scan();
    }

    /// <summary>Decision of a unit in the latest scan.</summary>
    public UnitDecision DecisionOf(int unit) => _output.Units[unit];

    /// <summary>From cold to pre-flow.</summary>
    public void Begin(int unit = 0)
    {
        Until(p => p.DecisionOf(unit).PowerProvedOff, 20);
        Run(1);
        Ask(RequestKind.Reset, unit);
        Ask(RequestKind.Start, unit);
    }

    /// <summary>From cold to a led ramp.</summary>
    public void Start()
    {
        Begin();
        Until(static p => p.Decision.State == UnitState.Heating, 120);
    }

    private void Read()
    {
        for (int i = 0; i < _site.Blocks.Count; i++)
        {
            PollBlock block = _site.Blocks[i];
            ref RawBlock raw = ref _scan.Blocks[i];
            Assert.Equal(ModbusExceptionCode.None, Device(block.LinkIndex, block.DeviceUnitId).ReadRegisters(block.Table, block.Address, raw.Words));
            raw.Result = ReadResult.Good;
            raw.AgeMs = 25;
            raw.ReadCount++;
        }
    }

    /// <summary>The order of effects: what removes power first.</summary>
    private void Write()
    {
        foreach (bool deEnergising in new[] { true, false })
        {
            foreach (CommandPoint point in _site.Commands.OfType<CommandPoint>())
            {
                CommandDecision decision = _output.Units[point.Unit].Commands[(int)point.Role];
                if (decision.Write && decision.DeEnergising == deEnergising)
                {
                    Write(point, decision.Value);
                }
            }
        }
    }

    private void Write(CommandPoint point, double value)
    {
        Span<ushort> words = stackalloc ushort[4];
        Assert.True(WordEncoder.TryEncode(value, point.Type, point.Order, point.Scale, point.Offset, words, out int count), $"{point.Description}: {value}");
        ModbusExceptionCode answer = Device(point.LinkIndex, point.DeviceUnitId).WriteRegisters(point.Address, words[..count]);
        Assert.True(answer == ModbusExceptionCode.None, $"{point.Description}: {value} answered by {answer}");
        _scan.Feedback[(point.Unit * CommandRoles.Count) + (int)point.Role] = CommandFeedback.Confirmed;
    }

    private IModbusDevice Device(int link, byte unitId) => _devices[link][unitId - 1];
}
