using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.Guarding.Watching;
using EdgeGuard.VirtualPlant.Faults;

namespace EdgeGuard.Acceptance.Tests.ClosedLoop;

/// <summary>
/// A-1 of the example site carries the options that an integrator may add. As it stands there it must be right for the virtual A-1:
/// nothing is told of a healthy heater, everything that learns has learnt, and what it watches for is found.
/// </summary>
public sealed class ExampleOptionsTests
{
    [Fact]
    public void A_healthy_A_1_of_the_example_learns_its_loss_and_legs_and_tells_nothing()
    {
        (GuardedPlant plant, UnitWatch watch) = Holding();
        FunctionId[] watched = [FunctionId.Sens, FunctionId.Bala, FunctionId.Leak, FunctionId.Phas];
        for (int minute = 0; minute < 60; minute++)
        {
            plant.Run(60);
            Assert.All(watched, f => Assert.True(plant.Decision.Functions[(int)f].State is FunctionState.Healthy or FunctionState.Idle, $"{f} {plant.Decision.Functions[(int)f].State} in minute {minute}"));
        }

        Assert.Equal((UnitState.Holding, FunctionState.Healthy), (plant.Decision.State, plant.Decision.Functions[(int)FunctionId.Bala].State));
        Assert.True(plant.Heard(EventId.Learnt), "the loss was not learnt");
        plant.SkippedUtcMs += 86_400_000;
        plant.Scan();
        Assert.Equal(1, LegSummary.Of(watch.Legs).Readings);
    }

    [Fact]
    public void A_thermocouple_of_A_1_that_slips_is_told_by_the_model_of_the_example()
    {
        (GuardedPlant plant, _) = Holding();
        plant.Cabinet.Faults.Set(FaultKind.ElementDisplaced, 0.6); // invented for this test; 15 K of 22
        plant.Until(static p => p.Decision.Functions[(int)FunctionId.Sens] is { State: FunctionState.Alarm, Finding: Finding.ModelBand }, 2_400);
        Assert.Equal((UnitState.Holding, 0), (plant.Decision.State, plant.Decision.TripCount));
    }

    private static (GuardedPlant Plant, UnitWatch Watch) Holding()
    {
        GuardedPlant plant = PlantSites.Guarded("A-1", 150, heldFlow: true);
        var watch = new UnitWatch(plant.Table, 100);
        plant.AfterScan = () => watch.Step(plant.UtcMs, plant.Decision);
        plant.Start();
        plant.Until(static p => p.Decision.State == UnitState.Holding, 4_000);
        return (plant, watch);
    }
}
