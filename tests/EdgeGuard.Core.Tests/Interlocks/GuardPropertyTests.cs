using CsCheck;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

public sealed class GuardPropertyTests
{
    private const int SensScans = 10;

    private static readonly int[] Measured = [0, 2, 6];

    [Trait("requirement", "LATCH-1")]
    [Fact]
    public void No_life_brings_power_into_danger_or_loses_a_latch()
    {
        int withPermit = 0;
        int trips = 0;
        HallScript.Gen(requests: true).Sample(
            script =>
            {
                var hall = new TestHall(HallScript.Site());
                var judge = new HallJudge(hall);
                hall.BringTo(0, UnitState.Heating).BringTo(1, UnitState.Ready);
                hall.Request(1, RequestKind.Start);
                script.Live(hall);
                Interlocked.Add(ref withPermit, judge.ScansWithPermit);
                Interlocked.Add(ref trips, judge.Trips);
            },
            iter: 400,
            threads: 2);
        Assert.True(withPermit > 10_000, "hardly any scan had a permit");
        Assert.True(trips > 400, "hardly any life met a trip");
    }

    [Trait("requirement", "OBSV-1")]
    [Fact]
    public void An_observing_unit_never_writes_and_never_permits()
    {
        HallScript.Gen(requests: true).Sample(
            script =>
            {
                var hall = new TestHall(HallScript.Site(UnitMode.Observe));
                var judge = new HallJudge(hall);
                script.Live(hall);
                return judge.Trips >= 1 && !hall[1].Permit;
            },
            iter: 100,
            threads: 2);
    }

    [Trait("requirement", "PURE-1")]
    [Fact]
    public void The_same_scans_give_the_same_decisions_bit_for_bit()
    {
        HallScript.Gen(requests: true).Sample(
            script =>
            {
                string first = Trace(script);
                return first.Length > 0 && first == Trace(script);
            },
            iter: 40,
            threads: 2);
    }

    [Trait("requirement", "SENS-1")]
    [Fact]
    public void A_signal_made_bad_never_delays_a_trip_beyond_the_delay_of_sens()
    {
        // NORS is left out: a gap in its window starts its proof anew, and SENS trips a gap that lasts.
        var gen = Gen.Select(HallScript.Gen(requests: false), Gen.Int[0, 3], Gen.Int[0, 400], Gen.Int[1, 200]);
        gen.Sample(
            (script, signal, from, length) =>
            {
                (long trip, FunctionId cause) = FirstTrip(script, -1, 0, 0);
                (long worse, _) = FirstTrip(script, signal, from, length);
                return cause == FunctionId.Nors || worse <= trip + SensScans;
            },
            iter: 300,
            threads: 2);
    }

    [Trait("requirement", "SELF-1")]
    [Fact]
    public void A_broken_invariant_trips_its_unit_and_no_other_until_restart()
    {
        var hall = new TestHall(HallScript.Site() with { SupplyLimitKw = 100 });
        hall.BringTo(0, UnitState.Heating).BringTo(1, UnitState.Heating);
        ushort[] whole = hall.Scan.Blocks[1].Words;
        hall.BeforeStep = h => h.Scan.Blocks[1].Words = new ushort[2];
        hall.Cabinets[0].Link = ReadResult.Timeout; // The cabinet's words would not fit the broken block.
        hall.Run();
        Assert.Equal(UnitState.Tripped, hall[0].State);
        Assert.Equal(FunctionId.Self, hall[0].FirstOut);
        Assert.False(hall[0].Permit);
        Assert.True(hall[0].Commands[(int)CommandRole.Relay] is { Write: true, DeEnergising: true, Value: 0 });
        Assert.True(hall[1].Permit);

        hall.BeforeStep = null;
        hall.Scan.Blocks[1].Words = whole;
        hall.Cabinets[0].Link = ReadResult.Good;
        hall.Run(50).Request(0, RequestKind.Reset).Run();
        Assert.Equal(UnitState.Tripped, hall[0].State);
        Assert.Equal(FunctionState.Demand, hall[0].Functions[(int)FunctionId.Self].State);
        Assert.Equal(EventId.RequestRefused, hall.Output.Events[0].Id);
        Assert.True(hall[1].Permit);
    }

    [Fact]
    public void A_scan_that_does_not_follow_is_refused()
    {
        var hall = new TestHall(HallScript.Site());
        hall.Run(3);
        hall.Scan.Scan += 1;
        Assert.Throws<InvalidOperationException>(() => hall.Run());
        Assert.Throws<InvalidOperationException>(() => hall.Guard.Step(hall.Scan, new ScanOutput(1)));
    }

    /// <summary>First trip after the unit heats, with one signal of unit 0 made unreadable for some scans (−1: none).</summary>
    private static (long Scan, FunctionId Cause) FirstTrip(HallScript script, int signal, int from, int length)
    {
        var hall = new TestHall(HallScript.Site());
        hall.BringTo(0, UnitState.Heating);
        long start = hall.Scan.Scan;
        long trip = long.MaxValue - SensScans;
        FunctionId cause = FunctionId.None;
        hall.BeforeStep = h =>
        {
            long scan = h.Scan.Scan - start;
            if (signal >= 0 && scan >= from && scan < from + length)
            {
                ushort[] words = signal < 3 ? h.Scan.Blocks[1].Words : h.Scan.Blocks[2].Words;
                int at = signal < 3 ? Measured[signal] : 0;
                words[at] = 0x7FC0; // Not a number, in either word order.
                words[at + 1] = 0x7FC0;
            }
        };
        hall.AfterStep = h =>
        {
            if (h[0].State == UnitState.Tripped && cause == FunctionId.None)
            {
                trip = h.Scan.Scan - start;
                cause = h[0].FirstOut;
            }
        };
        script.Live(hall);
        hall.Run(SensScans + 1);
        return (trip, cause);
    }

    private static string Trace(HallScript script)
    {
        var text = new System.Text.StringBuilder();
        var hall = new TestHall(HallScript.Site());
        hall.AfterStep = h => Append(text, h);
        hall.BringTo(0, UnitState.Heating);
        script.Live(hall);
        return text.ToString();
    }

    private static void Append(System.Text.StringBuilder text, TestHall hall)
    {
        for (int i = 0; i < hall.Output.EventCount; i++)
        {
            GuardEvent e = hall.Output.Events[i];
            text.Append(e.Sequence).Append(e.Unit).Append((int)e.Id).Append((int)e.Function).Append((int)e.Reason).Append(e.Detail)
                .Append(BitConverter.DoubleToInt64Bits(e.Value)).Append(BitConverter.DoubleToInt64Bits(e.Limit));
        }

        foreach (UnitDecision unit in hall.Output.Units)
        {
            text.Append((int)unit.State).Append(unit.Permit).Append(BitConverter.DoubleToInt64Bits(unit.LedSetpointC))
                .Append(BitConverter.DoubleToInt64Bits(unit.ElementSlopeKPerMin)).Append(BitConverter.DoubleToInt64Bits(unit.CoolSlopeKPerMin));
            foreach (CommandDecision command in unit.Commands)
            {
                text.Append(command.Write).Append(BitConverter.DoubleToInt64Bits(command.Value));
            }

            foreach (FunctionStatus status in unit.Functions)
            {
                text.Append((int)status.State).Append(status.SinceScan).Append(BitConverter.DoubleToInt64Bits(status.Value));
            }
        }
    }
}
