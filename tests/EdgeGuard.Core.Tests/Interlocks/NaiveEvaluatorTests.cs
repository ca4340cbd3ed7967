using System.Globalization;
using CsCheck;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>
/// The guard and <see cref="NaiveUnit"/> live the same random lives and must agree in every scan. EDGEGUARD_NAIVE_SCANS
/// says how many scans at least (tests/long naive-evaluator: 1,000,000).
/// </summary>
public sealed class NaiveEvaluatorTests(ITestOutputHelper output)
{
    private static readonly FunctionId[] Judged =
        [FunctionId.Hard, FunctionId.Flow, FunctionId.Elem, FunctionId.Outl, FunctionId.Comm, FunctionId.Sens, FunctionId.Jrnl];

    [Fact]
    public void A_naive_second_evaluator_agrees_in_every_scan_of_random_lives()
    {
        long wanted = long.Parse(Environment.GetEnvironmentVariable("EDGEGUARD_NAIVE_SCANS") ?? "20000", CultureInfo.InvariantCulture);
        long scans = 0;
        long trips = 0;
        long bypassed = 0;
        var demands = new long[FunctionIds.Count];
        Gen<(HallScript Script, int Bypass, int Minutes)> gen = Gen.Select(HallScript.Gen(requests: true), Gen.Int[0, 7], Gen.Int[1, 2]);
        while (scans < wanted)
        {
            gen.Sample(
                life =>
                {
                    (long lived, long tripped, long covered) = Live(life.Script, life.Bypass, life.Minutes, demands);
                    scans += lived;
                    trips += tripped;
                    bypassed += covered;
                },
                iter: 10,
                threads: 1);
        }

        output.WriteLine($"naive evaluator: {scans} scans, {trips} trips, {bypassed} scans with a bypass, demands {string.Join(", ", Judged.Select(f => $"{f} {demands[(int)f]}"))}");
        Assert.True(trips > scans / 2_000, "hardly any trip");
        Assert.True(bypassed > scans / 100, "hardly any bypass");
        Assert.All(Judged, f => Assert.True(demands[(int)f] > 0, $"{f} never demanded"));
    }

    private static (long Scans, long Trips, long Bypassed) Live(HallScript script, int bypass, int minutes, long[] demands)
    {
        var hall = new TestHall(HallScript.Site());
        NaiveUnit[] naive = [new(0, 70, 850, 720, 150), new(TestSite.BlocksPerUnit, 60, 450, 260, 80)];
        long trips = 0;
        long bypassed = 0;
        hall.AfterStep = h =>
        {
            for (int unit = 0; unit < naive.Length; unit++)
            {
                Compare(h, unit, naive[unit], demands);
                bypassed += naive[unit].Bypassed.Count > 0 ? 1 : 0;
            }

            trips += Events(h).Count(e => e.Id == EventId.Trip);
        };
        hall.BringTo(0, UnitState.Heating);
        IReadOnlyList<FunctionId> may = hall.Site.Units[0].Bypass.Functions;
        if (bypass < may.Count)
        {
            hall.Request(0, RequestKind.Bypass, may[bypass], (ushort)minutes).Run(2);
        }

        script.Live(hall);
        hall.Cabinets[0].Link = ReadResult.Good;
        hall.Run(50);
        return (hall.Scan.Scan + 1, trips, bypassed);
    }

    private static void Compare(TestHall hall, int unit, NaiveUnit naive, long[] demands)
    {
        UnitDecision said = hall[unit];
        naive.Judge(hall.Scan, unit, said);
        foreach (FunctionId function in Judged)
        {
            bool expected = naive.Demands.Contains(function);
            bool found = said.Functions[(int)function].State == FunctionState.Demand;
            Assert.True(expected == found, $"scan {hall.Scan.Scan} unit {unit} {function}: {found}, expected {expected}");
            Assert.Equal(naive.Bypassed.Contains(function), said.Functions[(int)function].Bypassed);
            demands[(int)function] += expected ? 1 : 0;
        }

        naive.Follow(hall.Scan, said, Events(hall).Where(e => e.Unit == unit));
        Assert.True(naive.FirstOut == said.FirstOut, $"scan {hall.Scan.Scan} unit {unit}: first-out {said.FirstOut}, expected {naive.FirstOut}");
        Assert.Equal(said.FirstOut != FunctionId.None, said.State == UnitState.Tripped);
    }

    private static IEnumerable<GuardEvent> Events(TestHall hall) => hall.Output.Events.Take(hall.Output.EventCount);
}
