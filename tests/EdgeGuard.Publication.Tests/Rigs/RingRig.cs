using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Ring;
using EdgeGuard.Records.Tests;
using CoreStatus = EdgeGuard.Core.Signals.StatusCode;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>A ring as the guard writes it, with figures a test sets.</summary>
internal sealed class RingRig : IDisposable
{
    private readonly TestFolder _folder = new();
    private ScanRingWriter? _writer;
    private long _scan;
    private int _linkCount;

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

    public static byte[] Digest => RecordsSite.Digest;

    public static SiteTable Site { get; } = RecordsSite.Table with { BlockWordCounts = [9], Units = [Unit("N-1"), Unit("A-1")] };

    public static IReadOnlyList<string> LinkNames { get; } = ["N-1 cabinet", "A-1 cabinet"];

    public string RingPath => _folder.File("scans.ring");

    public string HeadPath => _folder.File("head");

    public string Folder => _folder.Path;

    public ScanOutput Output { get; } = new(Site.Units.Count);

    public ScanRingLink[] Links { get; } = [.. LinkNames.Select(static _ => new ScanRingLink())];

    public int ScanCapacity { get; init; } = 64;

    public void Start(string run = "run-1", SiteTable? site = null, IReadOnlyList<string>? links = null)
    {
        _writer?.Dispose();
        _linkCount = (links ?? LinkNames).Count;
        _writer = new ScanRingWriter(new ScanRingOptions { Path = RingPath, Site = site ?? Site, SiteDigest = Digest, LinkNames = links ?? LinkNames, RunId = run, StartUtcUnixMs = Utc(), ScanCapacity = ScanCapacity });
    }

    public static long Utc() => DateTimeOffset.UtcNow.ToUnixTimeMilliseconds();

    public void SetSignal(int unit, SignalRole role, double value, uint status = CoreStatus.Good, int ageMs = 10) =>
        Output.Units[unit].Image[role] = new SignalValue { Value = value, Status = status, AgeMs = ageMs, Known = true };

    public void Scan(long utcUnixMs)
    {
        var scan = new RawScan([.. Site.BlockWordCounts], Site.Units.Count) { Scan = _scan++, UtcUnixMs = utcUnixMs };
        _writer!.Write(scan, Output, Live, Links.AsSpan(0, _linkCount));
    }

    public void Scan() => Scan(Utc());

    /// <summary>What N-1 was used for.</summary>
    public void Use(in ScanRingUse use) => _writer!.WriteUse(0, use);

    /// <summary>An alarm of N-1 as it stands after the next scans; a person who hid it, where one did.</summary>
    public void Alarm(FunctionId alarm, AlarmPointStatus status, string? person = null, string reason = "")
    {
        Output.Units[0].Alarms[(int)alarm] = status;
        if (person is not null)
        {
            _writer!.WriteHiddenAlarm(0, alarm, person, reason);
        }
    }

    public void Band(int band, double hours) => _writer!.WriteBandHours(0, band, hours);

    /// <summary>Figures of the guard itself for the next scans.</summary>
    public ScanRingLive Live { get; set; }

    /// <summary>Puts a function of N-1 under bypass, as the guard would.</summary>
    public void Bypass(FunctionId function, string person, int secondsLeft)
    {
        _writer!.WriteBypassPerson(0, function, person);
        Output.Units[0].Functions[(int)function].Bypassed = secondsLeft > 0;
        Output.Units[0].Functions[(int)function].BypassSecondsLeft = secondsLeft;
    }

    /// <summary>Forces a signal of N-1, as the guard would; no seconds left end it.</summary>
    public void Force(SignalRole role, double value, string person, string reason, int secondsLeft, int demands)
    {
        UnitDecision unit = Output.Units[0];
        _writer!.WriteForcer(0, role, person, reason);
        unit.Forced[2] = secondsLeft == 0 ? default : new ForcedSignal { Active = true, Role = role, Real = unit.RealOf(role), SecondsLeft = secondsLeft, Demands = demands };
        SetSignal(0, role, value, CoreStatus.GoodLocalOverride, 0);
    }

    /// <summary>Makes it a ring of another version, as a guard of another installation would write it.</summary>
    public void SetVersion(int version)
    {
        using var stream = new FileStream(RingPath, FileMode.Open, FileAccess.Write, FileShare.ReadWrite | FileShare.Delete);
        stream.Position = 8; // docs/reference/ring-format.md
        stream.Write(BitConverter.GetBytes(version));
    }

    public void Dispose()
    {
        _writer?.Dispose();
        _folder.Dispose();
    }

    private static SignalTable Signal(SignalRole role, double low, double high) => new() { Role = role, Block = 0, WordOffset = 0, Type = default, RangeMin = low, RangeMax = high, StaleMs = 1000, HoldMs = 5000 };

    private static UnitTable Unit(string name) => RecordsSite.Unit(name, UnitMode.Enforce) with
    {
        Signals = [Signal(SignalRole.ElementTemperature, -50, 1200), Signal(SignalRole.OutletTemperature, -50, 1000), Signal(SignalRole.GasFlow, 0, 400), Signal(SignalRole.Relay, 0, 1)],
        Commands = [new CommandTable { Role = CommandRole.Setpoint, Tolerance = 1 }],
        Force = new ForceTable { Signals = name == "N-1" ? [new ForcibleSignal(SignalRole.GasFlow, 0, 200), new ForcibleSignal(SignalRole.Relay, 0, 1), new ForcibleSignal(SignalRole.Insulation, 0, 1)] : [] },
    };
}
