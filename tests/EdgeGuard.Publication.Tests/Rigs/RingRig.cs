using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Ring;
using CoreStatus = EdgeGuard.Core.Signals.StatusCode;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>A ring as the guard writes it, with figures a test sets.</summary>
internal sealed class RingRig : IDisposable
{
    private readonly TestFolder _folder = new();
    private ScanRingWriter? _writer;
    private long _scan;

    public RingRig()
    {
        for (int unit = 0; unit < Site.Units.Count; unit++)
        {
            foreach (SignalTable signal in Site.Units[unit].Signals)
            {
                SetSignal(unit, signal.Role, 100 + (int)signal.Role);
            }
        }
    }

    public static byte[] Digest { get; } = [.. Enumerable.Range(0, 32).Select(static i => (byte)i)];

    public static SiteTable Site { get; } = new() { Name = "pilot hall", ScanMs = 100, BlockWordCounts = [9], Units = [Unit("N-1"), Unit("A-1")] };

    public string RingPath => _folder.File("scans.ring");

    public string HeadPath => _folder.File("head");

    public string Folder => _folder.Path;

    public ScanOutput Output { get; } = new(Site.Units.Count);

    public int ScanCapacity { get; init; } = 64;

    public void Start(string run = "run-1", SiteTable? site = null)
    {
        _writer?.Dispose();
        _writer = new ScanRingWriter(new ScanRingOptions { Path = RingPath, Site = site ?? Site, SiteDigest = Digest, RunId = run, StartUtcUnixMs = Utc(), ScanCapacity = ScanCapacity });
    }

    public static long Utc() => DateTimeOffset.UtcNow.ToUnixTimeMilliseconds();

    public void SetSignal(int unit, SignalRole role, double value, uint status = CoreStatus.Good, int ageMs = 10) =>
        Output.Units[unit].Image[role] = new SignalValue { Value = value, Status = status, AgeMs = ageMs, Known = true };

    public void Scan(long utcUnixMs)
    {
        var scan = new RawScan([.. Site.BlockWordCounts], Site.Units.Count) { Scan = _scan++, UtcUnixMs = utcUnixMs };
        _writer!.Write(scan, Output, default);
    }

    public void Scan() => Scan(Utc());

    public void Dispose()
    {
        _writer?.Dispose();
        _folder.Dispose();
    }

    private static SignalTable Signal(SignalRole role, double low, double high) => new() { Role = role, Block = 0, WordOffset = 0, Type = default, RangeMin = low, RangeMax = high, StaleMs = 1000, HoldMs = 5000 };

    private static UnitTable Unit(string name) => new()
    {
        Name = name,
        Mode = UnitMode.Enforce,
        FinalElement = FinalElementClass.RelayWithWatchdog,
        RatedPowerKw = 36,
        SetpointC = 700,
        WatchdogMs = 2000,
        CommLimitMs = 1000,
        SensDelayMs = 500,
        Signals = [Signal(SignalRole.ElementTemperature, -50, 1200), Signal(SignalRole.OutletTemperature, -50, 1000), Signal(SignalRole.GasFlow, 0, 400), Signal(SignalRole.Relay, 0, 1)],
        Commands = [new CommandTable { Role = CommandRole.Setpoint, Tolerance = 1 }],
        Flow = new FlowTable { LimitKgPerHour = 86, DelayMs = 300, ProvingKgPerHour = 132, PreFlowMs = 30_000, HotPreFlowMs = 5_000 },
        Elem = new TemperatureTable { AlarmC = 800, TripC = 850, DelayMs = 0, HysteresisK = 20 },
        Outl = new TemperatureTable { AlarmC = 720, TripC = 750, DelayMs = 0, HysteresisK = 20 },
        Nors = new NoResponseTable { PowerPercent = 20, DelayMs = 30_000, SlopeKPerMin = 1, FallingKPerMin = -5 },
        Resd = new ResidualTable { LimitPercent = 3, BlankingMs = 500, ProofMs = 1000 },
        Cool = new CoolTable
        {
            RampUpKPerMin = 30,
            RampDownKPerMin = 30,
            Signal = SignalRole.OutletTemperature,
            WindowMs = 60_000,
            ToleranceKPerMin = 1,
            HeatAlarmKPerMin = 120,
            AfterCoolingBelowC = 80,
            BlowerRunPercent = 80,
            BlowerAfterPercent = 40,
            BlowerEasePercentPerSecond = 1,
        },
    };
}
