using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Records.Tests;

/// <summary>A site of two units with invented but possible figures, and scans filled by a rule a test can recompute.</summary>
internal static class RecordsSite
{
    public const string RunId = "run-20260101-000000";

    public static SiteTable Table { get; } = new()
    {
        Name = "pilot hall",
        ScanMs = 100,
        BlockWordCounts = [9, 12, 5, 9, 12, 5],
        Units = [Unit("N-1", UnitMode.Enforce), Unit("A-1", UnitMode.Observe)],
    };

    public static byte[] Digest { get; } = [.. Enumerable.Range(0, 32).Select(i => (byte)i)];

    public static int[] WordCounts => [.. Table.BlockWordCounts];

    public static RawScan NewScan() => new(WordCounts, Table.Units.Count);

    public static void Fill(RawScan scan, long number)
    {
        scan.Scan = number;
        scan.UtcUnixMs = 1_767_225_600_000 + (100 * number);
        scan.Clock = (ClockQuality)(number % 3);
        scan.Journal = (JournalHealth)(number % 3);
        scan.DurableEvent = number * 2;
        scan.GapMs = (int)(number % 5000) + 7;
        scan.SkippedScans = (int)(number % 13);
        for (int b = 0; b < scan.Blocks.Length; b++)
        {
            scan.Blocks[b].Result = (ReadResult)((number + b) % 6);
            scan.Blocks[b].ExceptionCode = (byte)(number % 12);
            scan.Blocks[b].AgeMs = (int)(number % 1000) + b;
            scan.Blocks[b].ReadCount = (uint)(number * 3) + (uint)b;
            for (int w = 0; w < scan.Blocks[b].Words.Length; w++)
            {
                scan.Blocks[b].Words[w] = (ushort)((number * 31) + (b * 7) + w);
            }
        }

        for (int u = 0; u < scan.Requests.Length; u++)
        {
            scan.Requests[u] = new OperatorRequest { Kind = (RequestKind)((number + u) % 10), Id = number + u, Function = (FunctionId)((number + u) % 18), Minutes = (ushort)(number + u), Remote = (number + u) % 2 == 0, Signal = (SignalRole)((number + u) % 34), Value = (number * 1.5) - u };
        }

        for (int f = 0; f < scan.Feedback.Length; f++)
        {
            scan.Feedback[f] = (CommandFeedback)((number + f) % 4);
        }
    }

    public static UnitTable Unit(string name, UnitMode mode) => new()
    {
        Name = name,
        Mode = mode,
        FinalElement = FinalElementClass.RelayWithWatchdog,
        RatedPowerKw = 36,
        SetpointC = 700,
        WatchdogMs = 2000,
        CommLimitMs = 1000,
        SensDelayMs = 500,
        Signals = [],
        Commands = [],
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
