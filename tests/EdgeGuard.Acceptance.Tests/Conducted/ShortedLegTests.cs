using System.Text.Json;
using EdgeGuard.Acceptance.Tests.Guarding;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Demo;
using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Ledger;

namespace EdgeGuard.Acceptance.Tests.Conducted;

/// <summary>
/// After a trip of ELEM half the power stays: a thyristor leg is shorted and the contactor welded. Less gas makes the
/// element hotter, so the blower may not be lowered. Reference of plant profile N-1, computed with its two-lump model: 18 kW
/// left, 140 kg/h → the element falls to 545 °C; with the flow lowered to 45 kg/h it reaches 1011 °C in 10 min.
/// </summary>
public sealed class ShortedLegTests
{
    private const double LeftKw = 18.0;

    [Trait("requirement", "BLOW-1")]
    [Fact]
    public void The_guard_does_not_lower_the_blower_and_the_element_falls()
    {
        // The blower at 74 % moves the 140 kg/h of the reference with the outlet at the temperature that 18 kW give.
        using var rig = new GuardRig(conducted: true, static text => text
            .Replace("\"preFlowMs\": 30000, \"hotPreFlowMs\": 5000", "\"preFlowMs\": 2000, \"hotPreFlowMs\": 1000", StringComparison.Ordinal)
            .Replace("\"rampUpKPerMin\": 60,", "\"rampUpKPerMin\": 300, \"heatAlarmKPerMin\": 5000,", StringComparison.Ordinal)
            .Replace("\"blowerRunPercent\": 80,", "\"blowerRunPercent\": 74,", StringComparison.Ordinal));
        ConductedRunTests.Heat(rig);
        rig.ScanUntil(static u => ConductedRunTests.State(u) == "Holding", 3_000);
        Scan(rig, minutes: 30); // the lining is warmed through (its time constant is about 13 min)

        // The outlet sensor is shorted and reads cold: the controller asks for full power, at a high supply, until ELEM trips.
        rig.Plant.Ask("fault leg-shorted N-1");
        rig.Plant.Ask("fault contactor-welded N-1");
        rig.Plant.Ask("fault outlet-short N-1");
        rig.Plant.Ask("fault supply-high N-1");
        JsonElement tripped = rig.ScanUntil(static u => ConductedRunTests.State(u) == "Tripped", 3_000);
        Assert.Equal("ELEM", tripped.GetProperty("first_out").GetString());
        rig.Plant.Ask("clear supply-high N-1");
        int answers = rig.Answers.Count;
        Scan(rig, minutes: 10);

        Assert.Contains(rig.Answers.Skip(answers).SelectMany(static a => GuardRound.Parse(a).Events), static e => e is { Event: "PowerNotRemoved", Unit: "N-1" });
        UnitLedgerReport ledger = Parse(rig.Plant.Ask("ledger N-1"));
        CabinetTruth truth = JsonSerializer.Deserialize(rig.Plant.Ask("state N-1"), PlantJson.Default.CabinetTruth)!;
        Assert.Equal(LeftKw, truth.PowerKw, 0.1);
        Assert.Equal(0, ledger.BlowerLoweredUnderPower);
        Assert.Equal(74, truth.BlowerPercent);
        Assert.Equal(140, truth.FlowKgPerHour, 3.0);
        Assert.Equal(545, truth.ElementC, 0.04 * 545);
    }

    [Trait("requirement", "BLOW-1")]
    [Fact]
    public void A_wrong_guard_that_lowers_the_blower_is_caught_by_the_ledger()
    {
        using var folder = new TestFolder();
        using var plant = PlantChild.Start(folder, "N-1", "--conducted");
        using var wrong = new WrongGuard(plant);
        wrong.Heat(minutes: 15);
        plant.Command("fault leg-shorted N-1");
        plant.Command("fault contactor-welded N-1");
        wrong.RemovePower();
        plant.Command("advance 5000");
        Assert.Equal(LeftKw, plant.Truth().PowerKw, 0.1);
        Assert.Equal(0, plant.Ledger().BlowerLoweredUnderPower);

        wrong.LowerBlowerTo(45);
        long loweredMs = plant.Truth().AtMs;
        plant.Command("advance 600000");
        UnitLedgerReport ledger = plant.Ledger();
        Assert.Equal(1, ledger.BlowerLoweredUnderPower);
        Assert.True(ledger.ElementMaxC > 900, $"the element reached {ledger.ElementMaxC} °C");
        Assert.InRange(ledger.ElementMaxAtMs, loweredMs, loweredMs + 600_000);
    }

    private static void Scan(GuardRig rig, int minutes)
    {
        for (int i = 0; i < minutes * 600; i++)
        {
            rig.Scan();
        }
    }

    private static UnitLedgerReport Parse(string line) => JsonSerializer.Deserialize(line, PlantJson.Default.UnitLedgerReport)!;
}
