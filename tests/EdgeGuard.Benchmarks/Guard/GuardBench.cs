using System.Diagnostics;
using System.Globalization;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Tests.Interlocks;

namespace EdgeGuard.Benchmarks.Guard;

/// <summary>
/// Time of <c>Guard.Step</c> alone, of heating units with every function and over 30 signals each: one unit, one of which
/// four values are forced, and a hundred, beside the time of copying the words they read (the least a scan can cost) and the share of a scan of 100 ms.
/// </summary>
internal static class GuardBench
{
    private const int WarmUpScans = 1_000;
    private const int OneUnitScans = 10_000;
    private const int HundredUnitsScans = 3_000;
    private const double OneUnitGoalUs = 2;
    private const double HundredUnitsGoalUs = 200;
    private const double ScanUs = 100_000;

    private static readonly (SignalRole Role, double Value)[] Forced =
        [(SignalRole.ElementTemperature, 600), (SignalRole.OutletTemperature, 500), (SignalRole.GasFlow, 140), (SignalRole.EarthLeakage, 1)];

    public static int Run()
    {
        Console.WriteLine("units   signals a unit   median µs   p99 µs   copy of the words µs   share of a 100 ms scan   bytes a step");

        // The hundred first: the runtime has compiled the core for good when the one is measured.
        double hundred = Measure(100, HundredUnitsScans);
        double one = Measure(1, OneUnitScans);
        double forced = Measure(1, OneUnitScans, forces: true);

        // A force judges the real values beside the forced ones, for minutes and with a person there: stated, and without a goal.
        bool met = one <= OneUnitGoalUs && hundred <= HundredUnitsGoalUs;
        Console.WriteLine(Text($"guard-benchmark: one unit {one:0.00} µs (goal {OneUnitGoalUs:0}; with four forced values {forced:0.00} µs), a hundred {hundred:0} µs (goal {HundredUnitsGoalUs:0}): {(met ? "met" : "NOT met")}"));
        return met ? 0 : 1;
    }

    private static double Measure(int units, int scans, bool forces = false)
    {
        Func<int, UnitTable> full = i => TestSite.X1()(i) with { Name = Text($"X-{i + 1}"), Sens = TestSite.M1()(i).Sens with { FrozenMs = 3_600_000, SlopeMaxKPerSecond = 30 } };
        var hall = new TestHall(TestSite.Of([.. Enumerable.Repeat(full, units)]));
        Heat(hall, units);
        hall.Run(WarmUpScans);
        foreach ((SignalRole role, double value) in forces ? Forced : [])
        {
            hall.Force(0, role, value, 60).Run(2);
        }

        var took = new double[scans];
        long begin = 0;
        long bytesBefore = 0;
        long bytes = 0;
        int done = 0;
        hall.BeforeStep = _ => (bytesBefore, begin) = (GC.GetAllocatedBytesForCurrentThread(), Stopwatch.GetTimestamp());
        hall.AfterStep = _ =>
        {
            took[done++] = Stopwatch.GetElapsedTime(begin).TotalMicroseconds;
            bytes += GC.GetAllocatedBytesForCurrentThread() - bytesBefore;
        };
        hall.Run(scans);
        if (!Enumerable.Range(0, units).All(u => hall[u].Permit) || hall[0].Forced.Any(f => f.Active) != forces)
        {
            throw new InvalidOperationException("A unit was not heating, or not forced as it should be: nothing was measured.");
        }

        Array.Sort(took);
        double median = took[scans / 2];
        int signals = hall.Site.Units[0].Signals.Count;
        Console.WriteLine(Text($"{units,5}   {signals,14}   {median,9:0.00}   {took[scans * 99 / 100],6:0.00}   {CopyUs(hall),20:0.000}   {median / ScanUs,22:0.000 %}   {bytes / scans,12}"));
        return median;
    }

    private static void Heat(TestHall hall, int units)
    {
        hall.Run(40);
        Request(hall, units, RequestKind.Reset);
        Request(hall, units, RequestKind.Start);
        hall.RunUntil(h => Enumerable.Range(0, units).All(u => h[u].State == UnitState.Heating), 20_000);
        foreach (TestCabinet cabinet in hall.Cabinets)
        {
            (cabinet.Element, cabinet.Outlet, cabinet.Power) = (600, 500, 20);
        }
    }

    private static void Request(TestHall hall, int units, RequestKind kind)
    {
        for (int unit = 0; unit < units; unit++)
        {
            hall.Request(unit, kind);
        }

        hall.Run();
    }

    private static double CopyUs(TestHall hall)
    {
        const int Rounds = 10_000;
        ushort[] room = new ushort[hall.Scan.Blocks.Max(static b => b.Words.Length)];
        long begin = Stopwatch.GetTimestamp();
        for (int round = 0; round < Rounds; round++)
        {
            foreach (RawBlock block in hall.Scan.Blocks)
            {
                block.Words.AsSpan().CopyTo(room);
            }
        }

        return Stopwatch.GetElapsedTime(begin).TotalMicroseconds / Rounds;
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
