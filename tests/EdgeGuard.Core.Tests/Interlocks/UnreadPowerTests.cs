using CsCheck;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>SENS tells a power that reads nothing while the heater is heated; beside a second judgement from the whole past of each value.</summary>
public sealed class UnreadPowerTests
{
    private const int DelayScans = 200; // nors.delayMs of the test site
    private const double ResidualKw = 1.08; // 3 % of 36 kW

    private static readonly SignalRole[] Currents = [SignalRole.CurrentL1, SignalRole.CurrentL2, SignalRole.CurrentL3];

    [Trait("requirement", "SENS-11")]
    [Fact]
    public void A_naive_second_judgement_agrees_in_every_scan_of_random_lives()
    {
        int found = 0;
        int byCurrent = 0;
        int withoutHeat = 0;
        Gen<(int Output, int Power, int Slope, int Current, int Scans)[]> gen =
            Gen.Select(Gen.Int[0, 3], Gen.Int[0, 2], Gen.Int[0, 2], Gen.Int[0, 3], Gen.Int[1, 400]).Array[1, 12];
        gen.Sample(
            life =>
            {
                TestHall hall = new TestHall(TestSite.Of(WithCurrents)).BringTo(0, UnitState.Heating);
                TestCabinet cabinet = hall.Cabinets[0];
                (cabinet.Element, cabinet.Outlet) = (300, 250);
                var past = new List<(bool Unread, bool Current, double Element)>();
                bool before = false;
                foreach ((int output, int power, int slope, int current, int scans) in life)
                {
                    cabinet.Output = new[] { 0, 19.9, 20, 70 }[output];
                    cabinet.Power = new[] { 0, 1.07, 12 }[power];
                    cabinet.SlopeElement = new[] { -2, 3, 40 }[slope];
                    foreach (SignalRole role in Currents)
                    {
                        cabinet.Further[role] = new[] { 0, 0, 0.9, 30 }[current];
                    }

                    for (int i = 0; i < scans; i++)
                    {
                        hall.Run();
                        Assert.Equal(UnitState.Heating, hall[0].State);
                        past.Add((cabinet.Output >= 20 && cabinet.Power < ResidualKw, cabinet.Further[SignalRole.CurrentL1] > 1, cabinet.Element));
                        bool? expected = Judge(past, before);
                        bool told = hall[0].Functions[(int)FunctionId.Sens] is { State: FunctionState.Alarm, Finding: Finding.PowerUnread };
                        Assert.True(expected is null || expected == told, $"scan {past.Count}: {told}, expected {expected}");
                        before = told;
                        found += told ? 1 : 0;
                        byCurrent += told && past[^1].Current && cabinet.SlopeElement < 0 ? 1 : 0;
                        withoutHeat += !told && past[^1].Unread && !past[^1].Current && past.Count > DelayScans && past[^DelayScans..].TrueForAll(static p => p.Unread) ? 1 : 0;
                    }
                }
            },
            iter: 60,
            threads: 1);
        Assert.True(found > 500 && byCurrent > 100 && withoutHeat > 100, $"hardly anything judged: {found}, {byCurrent} by current, {withoutHeat} without heat");
    }

    [Trait("requirement", "SENS-11")]
    [Fact]
    public void A_unit_that_is_only_observed_is_told_as_well()
    {
        TestHall hall = new TestHall(TestSite.Of(TestSite.N1(UnitMode.Observe)));
        TestCabinet cabinet = hall.Cabinets[0];
        (cabinet[CommandRole.Relay], cabinet[CommandRole.Enable], cabinet[CommandRole.Heartbeat], cabinet[CommandRole.BlowerDemand]) = (1, 1, 1, 100);
        (cabinet.Power, cabinet.Output, cabinet.SlopeElement) = (0, 60, 50);
        Assert.Equal(FunctionState.Healthy, hall.Run(DelayScans)[0].Functions[(int)FunctionId.Sens].State);
        FunctionStatus sens = hall.Run()[0].Functions[(int)FunctionId.Sens];
        Assert.Equal((FunctionState.Alarm, Finding.PowerUnread, (double)SignalRole.Power, 0L), (sens.State, sens.Finding, sens.Value, sens.SinceScan));
    }

    [Fact]
    public void Without_a_permit_no_power_is_expected_whatever_output_is_read()
    {
        TestHall hall = new TestHall(TestSite.Of(WithCurrents)).BringTo(0, UnitState.Ready);
        (hall.Cabinets[0].Output, hall.Cabinets[0].SlopeElement) = (60, 50);
        foreach (SignalRole role in Currents)
        {
            hall.Cabinets[0].Further[role] = 30;
        }

        Assert.NotEqual(Finding.PowerUnread, hall.Run(DelayScans + 10)[0].Functions[(int)FunctionId.Sens].Finding);
        Assert.Equal(UnitState.Ready, hall[0].State);
    }

    [Fact]
    public void A_power_that_is_not_good_is_lost_and_not_unread()
    {
        TestHall hall = new TestHall(TestSite.Of(TestSite.N1())).BringTo(0, UnitState.Heating);
        (hall.Cabinets[0].Power, hall.Cabinets[0].Output, hall.Cabinets[0].SlopeElement) = (0, 60, 50);
        hall.Run(DelayScans + 1);
        Assert.Equal(Finding.PowerUnread, hall[0].Functions[(int)FunctionId.Sens].Finding);
        hall.BeforeStep = static h => h.Scan.Blocks[1].Words[6] = 0x7FC0; // NaN
        Assert.Equal((FunctionState.Pending, Finding.None), (hall.Run()[0].Functions[(int)FunctionId.Sens].State, hall[0].Functions[(int)FunctionId.Sens].Finding));
        hall.RunUntil(static h => h[0].State == UnitState.Tripped, 11);
        Assert.Equal(FunctionId.Sens, hall[0].FirstOut);
    }

    private static UnitTable WithCurrents(int index) => TestSite.X1()(index) with { Voting = [], Bala = null, Leak = null, Flow = TestSite.N1()(index).Flow };

    /// <summary>Found or not, by looking back over everything; null where the slope is too close to its limit for two ways to compute it.</summary>
    private static bool? Judge(List<(bool Unread, bool Current, double Element)> past, bool before)
    {
        int run = past.Count - 1 - past.FindLastIndex(static p => !p.Unread);
        if (run <= DelayScans)
        {
            return false;
        }

        if (before || past[^run..].Count(static p => p.Current) * 10 >= run)
        {
            return true;
        }

        double slope = Slope([.. past[^DelayScans..].Select(static p => p.Element)]);
        return Math.Abs(slope - 5) < 2 ? null : slope >= 5;
    }

    /// <summary>Least squares over the window, K/min, straight from the textbook.</summary>
    private static double Slope(double[] values)
    {
        double middle = (values.Length - 1) / 2.0;
        double up = values.Select((v, i) => (i - middle) * v).Sum();
        double down = values.Select((_, i) => (i - middle) * (i - middle)).Sum();
        return up / down / (TestSite.ScanMs / 60_000.0);
    }
}
