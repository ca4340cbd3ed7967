using CsCheck;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>A bypass never outlives its expiry, covers its own function only, and what was bypassed is counted.</summary>
public sealed class BypassTests
{
    [Trait("requirement", "BYPS-4")]
    [Fact]
    public void Each_bypass_counts_its_own_demands()
    {
        TestHall hall = new TestHall(TestSite.Of(TestSite.N1())).BringTo(0, UnitState.Heating);
        foreach (int demands in (int[])[1, 0])
        {
            hall.Request(0, RequestKind.Bypass, FunctionId.Flow, 5).Run(2);
            hall.Cabinets[0].Flow = demands > 0 ? 60 : 140;
            hall.Run(10);
            hall.Cabinets[0].Flow = 140;
            hall.Run(10).Request(0, RequestKind.Unbypass, FunctionId.Flow).Run();
            Assert.Equal(demands, hall.Output.Events.Take(hall.Output.EventCount).Single(static e => e.Id == EventId.BypassEnded).Detail);
        }
    }

    private const int ScansPerMinute = 600;

    [Fact]
    public void Every_function_that_may_be_bypassed_is_named_and_no_other()
    {
        FunctionId[] may = [.. Enum.GetValues<FunctionId>().Where(FunctionIds.MayBeBypassed)];
        Assert.Equal([FunctionId.Flow, FunctionId.Elem, FunctionId.Outl, FunctionId.Nors, FunctionId.Resd, FunctionId.Sens, FunctionId.Phas, FunctionId.Leak, FunctionId.Bala], may);
    }

    [Trait("requirement", "BYPS-1")]
    [Fact]
    public void What_the_site_marks_although_it_may_never_be_bypassed_stays_in_force()
    {
        SiteTable site = TestSite.Of(i => TestSite.N1()(i) with { Bypass = new BypassTable { Functions = Enum.GetValues<FunctionId>() } });
        var hall = new TestHall(site);
        hall.BringTo(0, UnitState.Heating);
        foreach (FunctionId function in Enum.GetValues<FunctionId>())
        {
            hall.Request(0, RequestKind.Bypass, function, 5).Run(3);
            Assert.Equal(FunctionIds.MayBeBypassed(function), hall[0].Functions[(int)function].Bypassed);
        }

        hall.Request(0, RequestKind.Bypass, (FunctionId)200, 5).Run(3); // A number that no function has is refused like any other.
        Assert.Equal(UnitState.Heating, hall[0].State);
    }

    [Trait("requirement", "BYPS-2")]
    [Fact]
    public void A_life_with_bypasses_stays_within_expiry_and_within_the_functions_bypassed()
    {
        int bypassedScans = 0;
        Gen<(int Function, int Minutes, HallScript Script)> gen = Gen.Select(Gen.Int[0, 4], Gen.Int[1, 3], HallScript.Gen(requests: true));
        gen.Sample(
            life =>
            {
                var hall = new TestHall(HallScript.Site());
                hall.BringTo(0, UnitState.Heating);
                FunctionId asked = hall.Site.Units[0].Bypass.Functions[life.Function];
                long begun = hall.Scan.Scan + 1;
                hall.AfterStep = h => bypassedScans += Judge(h, asked, begun + (life.Minutes * ScansPerMinute));
                hall.Request(0, RequestKind.Bypass, asked, (ushort)life.Minutes).Run(2);
                life.Script.Live(hall);
                hall.Cabinets[0].Link = ReadResult.Good;
                hall.Run(100);
            },
            iter: 150,
            threads: 1);
        Assert.True(bypassedScans > 10_000, "hardly any scan had a bypass");
    }

    [Fact]
    public void A_bypass_counts_missed_scans()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Ready).Request(0, RequestKind.Bypass, FunctionId.Flow, 1).Run(2);
        Assert.Equal(60, hall[0].Functions[(int)FunctionId.Flow].BypassSecondsLeft);
        hall.Skip(590).Run();
        Assert.True(hall[0].Functions[(int)FunctionId.Flow].Bypassed);
        Assert.Equal(1, hall[0].Functions[(int)FunctionId.Flow].BypassSecondsLeft);
        hall.Run(9);
        Assert.False(hall[0].Functions[(int)FunctionId.Flow].Bypassed);
    }

    [Trait("requirement", "BYPS-4")]
    [Fact]
    public void Demands_trips_and_spurious_trips_are_counted_by_function()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Heating).Request(0, RequestKind.Bypass, FunctionId.Outl, 60).Run(2);
        hall.Cabinets[0].Outlet = 730;
        hall.Run(10);
        hall.Cabinets[0].Outlet = 700;
        hall.Run(10);
        hall.Cabinets[0].Outlet = 730;
        hall.Run(10);
        hall.Cabinets[0].Flow = 60;
        hall.Run(10);
        Assert.Equal((FunctionId.Flow, TripClass.Unknown), (hall[0].LastTrip, hall[0].LastTripClass));
        hall.Request(0, RequestKind.ClassifySpurious).Run().Request(0, RequestKind.ClassifySpurious).Run();
        FunctionCounts outlet = hall[0].Counts[(int)FunctionId.Outl];
        FunctionCounts flow = hall[0].Counts[(int)FunctionId.Flow];
        Assert.Equal((0, 0, 2, 0), (outlet.Demands, outlet.Trips, outlet.BypassedDemands, outlet.SpuriousTrips));
        Assert.Equal((1, 1, 0, 1), (flow.Demands, flow.Trips, flow.BypassedDemands, flow.SpuriousTrips));
        Assert.Equal(TripClass.Spurious, hall[0].LastTripClass);
        hall.Request(0, RequestKind.ClassifyGenuine).Run();
        Assert.Equal(0, hall[0].Counts[(int)FunctionId.Flow].SpuriousTrips);
    }

    [Fact]
    public void A_second_request_replaces_the_expiry_of_the_first_only_when_it_is_durable()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Ready).Request(0, RequestKind.Bypass, FunctionId.Flow, 1).Run(2);
        hall.DurableFollows = false;
        hall.Request(0, RequestKind.Bypass, FunctionId.Flow, 60).Run(610);
        Assert.False(hall[0].Functions[(int)FunctionId.Flow].Bypassed);
        hall.DurableFollows = true;
        hall.Run(2);
        Assert.InRange(hall[0].Functions[(int)FunctionId.Flow].BypassSecondsLeft, 3_530, 3_540);
    }

    private static int Judge(TestHall hall, FunctionId asked, long end)
    {
        UnitDecision unit = hall[0];
        int bypassed = 0;
        for (int i = 1; i < FunctionIds.Count; i++)
        {
            ref FunctionStatus status = ref unit.Functions[i];
            if (status.Bypassed)
            {
                bypassed = 1;
                Assert.Equal(asked, (FunctionId)i);
                Assert.True(hall.Scan.Scan < end, "a bypass outlived its expiry");
                Assert.True(status.BypassSecondsLeft > 0);
            }

            bool removes = FunctionIds.ReactionOf((FunctionId)i) == Reaction.Removal;
            Assert.False(unit.Permit && removes && status.State == FunctionState.Demand && !status.Bypassed, $"a permit beside {(FunctionId)i} not bypassed");
        }

        return bypassed;
    }
}
