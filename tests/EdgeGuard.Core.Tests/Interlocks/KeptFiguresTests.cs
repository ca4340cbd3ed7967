using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>A run that goes on from the figures of the one before.</summary>
public sealed class KeptFiguresTests
{
    [Trait("requirement", "KEEP-1")]
    [Fact]
    public void Counters_go_on_where_the_run_before_ended()
    {
        TestHall first = Tripped();
        FunctionCounts before = first[0].Counts[(int)FunctionId.Flow];
        Assert.Equal((1, 1, 1), (before.Trips, first[0].TripCount, before.Demands));

        TestHall second = Tripped(Kept(first[0]));
        Assert.Equal((2, 2, 2), (second[0].Counts[(int)FunctionId.Flow].Trips, second[0].TripCount, second[0].Counts[(int)FunctionId.Flow].Demands));
        Assert.Equal(2, second[0].Counts[(int)FunctionId.Start].Demands); // one for each start
    }

    // Who classifies comes the next morning, and the machine may have been started again since.
    [Trait("requirement", "KEEP-1")]
    [Fact]
    public void The_trip_of_an_earlier_run_can_be_classified()
    {
        TestHall second = new TestHall(TestSite.Of(TestSite.N1()), Kept(Tripped()[0])).Run();
        Assert.Equal(FunctionId.Flow, second[0].LastTrip);
        second.Request(0, RequestKind.ClassifySpurious).Run();
        Assert.Equal(1, second[0].Counts[(int)FunctionId.Flow].SpuriousTrips);
        GuardEvent told = second.Output.Events.Take(second.Output.EventCount).Single(static e => e.Id == EventId.TripClassified);
        Assert.Equal((FunctionId.Flow, 1.0, 1.0), (told.Function, told.Value, told.Limit));

        // The finding is kept too: said again it counts nothing twice.
        TestHall third = new TestHall(TestSite.Of(TestSite.N1()), Kept(second[0])).Run();
        third.Request(0, RequestKind.ClassifySpurious).Run();
        Assert.Equal(1, third[0].Counts[(int)FunctionId.Flow].SpuriousTrips);
    }

    [Trait("requirement", "KEEP-1")]
    [Fact]
    public void Nothing_that_is_kept_gives_a_permit()
    {
        var kept = new KeptFigures { TripCount = int.MaxValue, LastTrip = (FunctionId)200, Counts = [.. Enumerable.Repeat(new FunctionCounts { Demands = int.MaxValue, Trips = -5, SpuriousTrips = int.MaxValue }, 60)], Loss = new LearntLoss(int.MaxValue, double.NaN, -1) };
        TestHall hall = new TestHall(TestSite.Of(TestSite.N1()), kept).Run(40);
        Assert.Equal((UnitState.Tripped, FunctionId.Start, false), (hall[0].State, hall[0].FirstOut, hall[0].Permit));
        Assert.Equal(FunctionId.None, hall[0].LastTrip);
        hall.BringTo(0, UnitState.Heating).Cabinets[0].Flow = 10;
        hall.RunUntil(static h => h[0].State == UnitState.Tripped, 100);

        // A counter at the end of its range must not break the step: no trip by SELF.
        Assert.Equal((FunctionId.Flow, KeptFigures.CountMax + 1), (hall[0].FirstOut, hall[0].TripCount));
    }

    [Trait("requirement", "KEEP-4")]
    [Fact]
    public void A_learnt_loss_judges_at_once_in_the_next_run_and_is_learnt_anew_on_request()
    {
        SiteTable site = TestSite.Of(TestSite.X1());
        LearntLoss learnt = new(30, 0.001, 1e-9);
        TestHall hall = new TestHall(site, new KeptFigures { Loss = learnt }).Run();
        Assert.Equal(learnt.KwPerK, hall[0].Loss.KwPerK);
        hall.Request(0, RequestKind.Learn, FunctionId.Bala).Run(2);
        Assert.Equal(default, hall[0].Loss);

        hall.Request(0, RequestKind.Learn, FunctionId.Flow).Run();
        Assert.Equal(RefusalReason.NothingToLearn, hall.Output.Events.Take(hall.Output.EventCount).Single(static e => e.Id == EventId.RequestRefused).Reason);
    }

    [Trait("requirement", "KEEP-4")]
    [Theory]
    [InlineData(0, 0.001, 0)]
    [InlineData(5, -0.001, 0)]
    [InlineData(5, 0.02, 0)]
    [InlineData(5, double.NaN, 0)]
    [InlineData(5, 0.001, -1)]
    [InlineData(5, 0.001, double.PositiveInfinity)]
    public void A_loss_that_cannot_have_been_learnt_with_this_table_is_left(int blocks, double kwPerK, double squares)
    {
        var balance = new EnergyBalance(BalanceTable);
        Assert.False(balance.TryRestore(new LearntLoss(blocks, kwPerK, squares)));
        Assert.Equal(default, balance.Learnt);
    }

    [Fact]
    public void A_loss_half_learnt_is_learnt_to_its_end()
    {
        var balance = new EnergyBalance(BalanceTable);
        Assert.True(balance.TryRestore(new LearntLoss(3, 0.001, 0)));
        Assert.False(balance.IsLearnt);
        Assert.True(balance.TryRestore(new LearntLoss(900, 0.001, 0)));
        Assert.True(balance.IsLearnt);
        Assert.Equal(5, balance.LearntBlocks);
    }

    private static EnergyBalanceTable BalanceTable => new()
    {
        Gas = Gas.Nitrogen,
        RatedPowerKw = 36,
        BlockScans = 10,
        ScanSeconds = 6,
        StoredKJPerK = 12,
        LossMaxKwPerK = 0.01,
        LearnBlocks = 5,
    };

    private static TestHall Tripped(params KeptFigures[] kept)
    {
        TestHall hall = new TestHall(TestSite.Of(TestSite.N1()), kept).BringTo(0, UnitState.Heating);
        hall.Cabinets[0].Flow = 10;
        return hall.RunUntil(static h => h[0].State == UnitState.Tripped, 100);
    }

    private static KeptFigures Kept(UnitDecision decision) => new()
    {
        Counts = [.. decision.Counts],
        TripCount = decision.TripCount,
        LastTrip = decision.LastTrip,
        LastTripClass = decision.LastTripClass,
        Loss = decision.Loss,
    };
}
