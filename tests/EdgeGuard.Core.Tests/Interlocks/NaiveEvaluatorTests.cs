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

    [Trait("requirement", "FORC-4")]
    [Fact]
    public void A_naive_second_evaluator_agrees_in_every_scan_of_random_lives()
    {
        long wanted = long.Parse(Environment.GetEnvironmentVariable("EDGEGUARD_NAIVE_SCANS") ?? "20000", CultureInfo.InvariantCulture);
        long scans = 0;
        long trips = 0;
        long bypassed = 0;
        long forced = 0;
        long taken = 0;
        var demands = new long[FunctionIds.Count];
        Gen<(HallScript Script, int Bypass, int Minutes)> gen = Gen.Select(HallScript.Gen(requests: true, forces: true), Gen.Int[0, 7], Gen.Int[1, 2]);
        while (scans < wanted)
        {
            gen.Sample(
                life =>
                {
                    (long lived, long tripped, long covered, long simulated, long takenAway) = Live(life.Script, life.Bypass, life.Minutes, demands);
                    scans += lived;
                    trips += tripped;
                    bypassed += covered;
                    forced += simulated;
                    taken += takenAway;
                },
                iter: 10,
                threads: 1);
        }

        output.WriteLine($"naive evaluator: {scans} scans, {trips} trips, {bypassed} scans with a bypass, {forced} with a forced value, {taken} with a demand it took away, demands {string.Join(", ", Judged.Select(f => $"{f} {demands[(int)f]}"))}");
        Assert.True(trips > scans / 2_000, "hardly any trip");
        Assert.True(bypassed > scans / 100, "hardly any bypass");
        Assert.True(forced > scans / 100, "hardly any forced value");
        Assert.True(taken > scans / 1_000, "hardly any demand taken away by one");
        Assert.All(Judged, f => Assert.True(demands[(int)f] > 0, $"{f} never demanded"));
    }

    private static (long Scans, long Trips, long Bypassed, long Forced, long TakenAway) Live(HallScript script, int bypass, int minutes, long[] demands)
    {
        var hall = new TestHall(HallScript.Site());
        NaiveUnit[] naive = [new(0, 70, 850, 720, 150), new(TestSite.BlocksPerUnit, 60, 450, 260, 80)];
        long trips = 0;
        long bypassed = 0;
        long forced = 0;
        long taken = 0;
        hall.AfterStep = h =>
        {
            for (int unit = 0; unit < naive.Length; unit++)
            {
                Compare(h, unit, naive[unit], demands);
                bypassed += naive[unit].Bypassed.Count > 0 ? 1 : 0;
                forced += naive[unit].Forced.Count > 0 ? 1 : 0;
                taken += naive[unit].TakenAway.Count > 0 ? 1 : 0;
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
        return (hall.Scan.Scan + 1, trips, bypassed, forced, taken);
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
            bool takenAway = naive.TakenAway.Contains(function);
            Assert.True(takenAway == said.Functions[(int)function].ForcedDemand, $"scan {hall.Scan.Scan} unit {unit} {function}: taken away {!takenAway}, expected {takenAway}");
            demands[(int)function] += expected ? 1 : 0;
        }

        Assert.Equal(naive.Forced.Order(StringComparer.Ordinal), said.Forced.Where(f => f.Active).Select(f => f.Role.ToString()).Order(StringComparer.Ordinal));
        naive.Follow(hall.Scan, said, Events(hall).Where(e => e.Unit == unit));
        Assert.True(naive.FirstOut == said.FirstOut, $"scan {hall.Scan.Scan} unit {unit}: first-out {said.FirstOut}, expected {naive.FirstOut}");
        Assert.Equal(said.FirstOut != FunctionId.None, said.State == UnitState.Tripped);
    }

    private static IEnumerable<GuardEvent> Events(TestHall hall) => hall.Output.Events.Take(hall.Output.EventCount);
}
