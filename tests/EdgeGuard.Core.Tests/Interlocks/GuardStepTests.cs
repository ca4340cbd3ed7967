using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

public sealed class GuardStepTests(ITestOutputHelper output)
{
    [Fact]
    public void A_unit_goes_from_power_on_to_steady_heating_and_back()
    {
        TestHall hall = new(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Heating);
        Assert.True(hall[0].Permit);
        hall.Cabinets[0].Element = 728;
        hall.Cabinets[0].Outlet = 650;
        hall.Cabinets[0].Power = 27;
        hall.RunUntil(h => h[0].State == UnitState.Holding, 7_000);
        hall.Request(0, RequestKind.Cool).Run();
        Assert.Equal(UnitState.LedCooldown, hall[0].State);
        hall.Cabinets[0].Power = 0;
        hall.RunUntil(h => h[0].State == UnitState.AfterCooling, 700);
        hall.Cabinets[0].Element = 100; // A cold element alone is not enough: it may be a shorted sensor.
        Assert.Equal(UnitState.AfterCooling, hall.Run(100)[0].State);
        hall.Cabinets[0].Outlet = 90;
        hall.RunUntil(h => h[0].State == UnitState.Standby, 100);
        Assert.Equal(0, hall[0].TripCount);
    }

    [Trait("requirement", "ALLO-1")]
    [Fact]
    public void A_step_with_every_function_fitted_stays_near_its_goal_of_two_microseconds()
    {
        // The goal is 2 µs in the median on the reference machine; twice that, so that other work on a machine does not decide.
        TestHall hall = new(TestSite.Of(i => TestSite.X1()(i) with { Sens = new SensorTable { FrozenMs = 3_600_000, SlopeMaxKPerSecond = 30 } }));
        hall.BringTo(0, UnitState.Heating);
        hall.Cabinets[0].Element = 600;
        hall.Cabinets[0].Outlet = 500;
        hall.Cabinets[0].Power = 20;
        hall.Run(1_000);
        var took = new List<double>(10_000);
        long begin = 0;
        hall.BeforeStep = _ => begin = System.Diagnostics.Stopwatch.GetTimestamp();
        hall.AfterStep = _ => took.Add(System.Diagnostics.Stopwatch.GetElapsedTime(begin).TotalMicroseconds);
        hall.Run(10_000);
        took.Sort();
        double medianUs = took[took.Count / 2];
        output.WriteLine($"one step of a unit with every function: {medianUs:0.00} µs in the median");
        Assert.InRange(medianUs, 0, 4);
        Assert.True(hall[0].Permit, "what was measured is no heating unit");
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_step_allocates_nothing(bool everything)
    {
        SiteTable site = everything
            ? TestSite.Of(i => TestSite.X1()(i) with { Sens = TestSite.F1()(i).Sens with { Model = TestSite.M1()(i).Sens.Model } }, TestSite.X1(VotingScheme.OneOutOfTwo))
            : TestSite.Of(TestSite.N1(), TestSite.A1());
        TestHall hall = new(site with { SupplyLimitKw = 45 });
        hall.BringTo(0, UnitState.Heating);
        hall.DurableFollows = false;
        RawScan scan = hall.Scan;
        hall.Guard.Step(Next(scan), hall.Output);
        RequestKind[] kinds = Enum.GetValues<RequestKind>();
        SignalRole[] forcible = [SignalRole.GasFlow, SignalRole.ElementTemperature, SignalRole.InletTemperature];
        int forced = 0;
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 100_000; i++)
        {
            scan.DurableEvent = hall.Output.EventCount > 0 ? hall.Output.Events[hall.Output.EventCount - 1].Sequence : scan.DurableEvent;
            // Words that change, so that events and trips are part of what is measured.
            scan.Blocks[1].Words[0] = (ushort)(i % 3000 < 100 ? 0x4461 : 0x4200);
            scan.Requests[0] = i % 500 == 499 ? new OperatorRequest { Kind = kinds[i / 500 % kinds.Length], Id = 1000 + i, Function = (FunctionId)(i / 500 % 21), Minutes = 1, Signal = forcible[i / 500 % forcible.Length], Value = 90 } : default;
            hall.Guard.Step(Next(scan), hall.Output);
            forced += hall[0].Forced[0].Active ? 1 : 0;
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.True(hall[0].TripCount > 0, "the run met no trip");
        Assert.True(forced > 1_000, "the run met hardly any forced value");
    }

    private static RawScan Next(RawScan scan)
    {
        scan.Scan++;
        for (int i = 0; i < scan.Blocks.Length; i++)
        {
            scan.Blocks[i].ReadCount++;
        }

        return scan;
    }
}
