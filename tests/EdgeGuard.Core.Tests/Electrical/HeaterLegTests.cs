using System.Globalization;
using CsCheck;
using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Tests.Thermal;

namespace EdgeGuard.Core.Tests.Electrical;

public sealed class HeaterLegTests
{
    private const double Volt = 400;

    // Circuit theory by hand: star 8, 8, 8.8 reads 16, 16.8, 16.8; delta 24, 24, 26.4 reads 24 parallel 50.4 and 26.4 parallel 48.
    [Trait("requirement", "ELEC-2")]
    [Theory]
    [InlineData(HeaterConnection.Star, 8, 8, 8.8, 16, 16.8, 16.8)]
    [InlineData(HeaterConnection.Delta, 24, 24, 26.4, 16.25806, 16.25806, 17.03226)]
    public void Three_readings_give_the_legs_and_back(
        HeaterConnection connection, double one, double two, double three, double r12, double r23, double r31)
    {
        (double Terminal12Ohm, double Terminal23Ohm, double Terminal31Ohm) read = new LegResistances(one, two, three).Terminals(connection);
        Assert.Equal(r12, read.Terminal12Ohm, 1e-5);
        Assert.Equal(r23, read.Terminal23Ohm, 1e-5);
        Assert.Equal(r31, read.Terminal31Ohm, 1e-5);
        LegResistances legs = LegResistances.FromTerminals(connection, read.Terminal12Ohm, read.Terminal23Ohm, read.Terminal31Ohm);
        Assert.Equal(one, legs.FirstOhm, 1e-9);
        Assert.Equal(two, legs.SecondOhm, 1e-9);
        Assert.Equal(three, legs.ThirdOhm, 1e-9);
        Assert.True(legs.AreLegs);
    }

    [Fact]
    public void Any_three_legs_survive_the_way_over_the_terminals()
    {
        Gen<double> leg = Gen.Double[0.5, 200];
        Gen.Select(leg, leg, leg, Gen.Bool.Select(b => b ? HeaterConnection.Star : HeaterConnection.Delta)).Sample((a, b, c, connection) =>
        {
            (double r12, double r23, double r31) = new LegResistances(a, b, c).Terminals(connection);
            LegResistances legs = LegResistances.FromTerminals(connection, r12, r23, r31);
            Assert.Equal(1, legs.FirstOhm / a, 1e-7);
            Assert.Equal(1, legs.SecondOhm / b, 1e-7);
            Assert.Equal(1, legs.ThirdOhm / c, 1e-7);
        });
    }

    // One leg 10 % high: the terminals differ by 5.0 % in star and 4.8 % in delta only; the legs tell the truth.
    [Trait("requirement", "ELEC-2")]
    [Theory]
    [InlineData(HeaterConnection.Star, 5.0)]
    [InlineData(HeaterConnection.Delta, 4.76)]
    public void Ten_per_cent_in_one_leg_is_half_hidden_between_the_terminals(HeaterConnection connection, double shownPercent)
    {
        (double r12, double r23, double r31) = new LegResistances(10, 10, 11).Terminals(connection);
        double spread = 100 * ((Math.Max(r12, Math.Max(r23, r31)) / Math.Min(r12, Math.Min(r23, r31))) - 1);
        Assert.Equal(shownPercent, spread, 0.01);
        Assert.Equal(10, LegResistances.FromTerminals(connection, r12, r23, r31).SpreadPercent, 1e-9);
    }

    // Delta with leg 12 open reads 2 R across it instead of 2 R/3 and R instead of 2 R/3 across the others.
    [Fact]
    public void An_open_delta_leg_reads_three_times_and_one_and_a_half_times()
    {
        (double r12, double r23, double r31) = new LegResistances(double.PositiveInfinity, 24, 24).Terminals(HeaterConnection.Delta);
        Assert.Equal(3 * 16, r12, 1e-9);
        Assert.Equal(1.5 * 16, r23, 1e-9);
        Assert.Equal(1.5 * 16, r31, 1e-9);
        Assert.False(LegResistances.FromTerminals(HeaterConnection.Delta, r12, r23, r31).AreLegs);
    }

    [Theory]
    [InlineData(HeaterConnection.Star, 16, 16, 40)]
    [InlineData(HeaterConnection.Star, double.PositiveInfinity, 16, double.PositiveInfinity)]
    [InlineData(HeaterConnection.None, 16, 16, 16)]
    [InlineData(HeaterConnection.Delta, double.NaN, 16, 16)]
    public void Readings_that_no_legs_can_give_are_no_legs(HeaterConnection connection, double r12, double r23, double r31)
    {
        LegResistances legs = LegResistances.FromTerminals(connection, r12, r23, r31);
        Assert.False(legs.AreLegs);
        Assert.Equal(double.PositiveInfinity, legs.SpreadPercent);
    }

    // By hand: R between terminals 2 U²/P; legs U²/P and 3 U²/P; I = P/(√3 U).
    [Theory]
    [InlineData(15, 21.333, 10.667, 32.000, 21.65)]
    [InlineData(36, 8.889, 4.444, 13.333, 51.96)]
    [InlineData(60, 5.333, 2.667, 8.000, 86.60)]
    public void Rating_gives_ohms_and_amperes(double kw, double terminal, double star, double delta, double ampere)
    {
        Assert.Equal(terminal, HeaterRating.TerminalOhm(kw, Volt), 1e-3);
        Assert.Equal(star, HeaterRating.LegOhm(HeaterConnection.Star, kw, Volt), 1e-3);
        Assert.Equal(delta, HeaterRating.LegOhm(HeaterConnection.Delta, kw, Volt), 1e-3);
        Assert.Equal(ampere, HeaterRating.LineAmpere(kw, Volt), 1e-2);
    }

    [Theory]
    [InlineData(0.90, 0.81)]
    [InlineData(0.95, 0.9025)]
    [InlineData(1.05, 1.1025)]
    [InlineData(1.10, 1.21)]
    public void Power_goes_with_the_square_of_the_voltage(double voltage, double share) =>
        Assert.Equal(share, HeaterRating.PowerShare(voltage * Volt, Volt), 1e-12);

    [Fact]
    public void A_sound_heater_draws_its_rating_in_both_connections()
    {
        foreach (HeaterConnection connection in new[] { HeaterConnection.Star, HeaterConnection.Delta })
        {
            LineCurrents currents = Currents(connection, "none");
            Assert.Equal(36, currents.PowerKw, 1e-9);
            Assert.Equal(51.96, currents.FirstAmpere, 0.005);
            Assert.Equal(51.96, currents.SecondAmpere, 0.005);
            Assert.Equal(51.96, currents.ThirdAmpere, 0.005);
            Assert.Equal(CurrentPattern.Even, Recognise(connection, currents));
        }
    }

    [Trait("requirement", "ELEC-3")]
    [Fact]
    public void Faults_show_the_currents_the_power_and_the_unbalance_of_circuit_theory()
    {
        int rows = 0;
        foreach (string[] row in Vectors.Rows("heater-faults.csv"))
        {
            var connection = Enum.Parse<HeaterConnection>(row[0]);
            LineCurrents sound = Currents(connection, "none");
            LineCurrents currents = Currents(connection, row[1]);
            Assert.Equal(Number(row[2]), currents.FirstAmpere / sound.FirstAmpere, 1e-3);
            Assert.Equal(Number(row[3]), currents.SecondAmpere / sound.SecondAmpere, 1e-3);
            Assert.Equal(Number(row[4]), currents.ThirdAmpere / sound.ThirdAmpere, 1e-3);
            Assert.Equal(Number(row[5]), currents.PowerKw / sound.PowerKw, 1e-3);
            Assert.Equal(Number(row[6]), Unbalance.MaxDeviationPercent(currents.FirstAmpere, currents.SecondAmpere, currents.ThirdAmpere), 0.05);
            Assert.Equal(Number(row[7]), Unbalance.NegativeSequencePercent(currents.FirstAmpere, currents.SecondAmpere, currents.ThirdAmpere), 0.01);
            rows++;
        }

        Assert.Equal(8, rows);
    }

    [Trait("requirement", "ELEC-3")]
    [Theory]
    [InlineData(HeaterConnection.Star, "leg3", CurrentPattern.ThirdLineDead)]
    [InlineData(HeaterConnection.Star, "line1", CurrentPattern.FirstLineDead)]
    [InlineData(HeaterConnection.Delta, "line2", CurrentPattern.SecondLineDead)]
    [InlineData(HeaterConnection.Delta, "leg12", CurrentPattern.Leg12Open)]
    [InlineData(HeaterConnection.Delta, "leg23", CurrentPattern.Leg23Open)]
    [InlineData(HeaterConnection.Delta, "leg31", CurrentPattern.Leg31Open)]
    public void The_pattern_names_the_fault(HeaterConnection connection, string fault, CurrentPattern expected) =>
        Assert.Equal(expected, Recognise(connection, Currents(connection, fault)));

    // The currents of an open delta leg fit no open leg of a star.
    [Fact]
    public void What_fits_nothing_is_unclear()
    {
        Assert.Equal(CurrentPattern.Unclear, Recognise(HeaterConnection.Star, Currents(HeaterConnection.Delta, "leg12")));
        Assert.Equal(CurrentPattern.Unclear, CurrentPatterns.Recognise(HeaterConnection.Delta, 52, 20, 45, 0.5));
        Assert.Equal(CurrentPattern.Unclear, CurrentPatterns.Recognise(HeaterConnection.Star, 52, double.NaN, 52, 0.5));
        Assert.Equal(CurrentPattern.Unclear, CurrentPatterns.Recognise(HeaterConnection.Star, 52, -1, 52, 0.5));
        Assert.Equal(CurrentPattern.NoCurrent, CurrentPatterns.Recognise(HeaterConnection.Star, 0.2, 0.1, 0, 0.5));
    }

    // An aged leg (+10 %) and a supply 5 % off are no open leg.
    [Fact]
    public void An_aged_leg_is_still_even()
    {
        var aged = new LegResistances(4.444, 4.444, 4.888);
        Assert.Equal(CurrentPattern.Even, Recognise(HeaterConnection.Star, LineCurrents.Of(HeaterConnection.Star, aged, Volt)));
        Assert.Equal(CurrentPattern.Even, Recognise(HeaterConnection.Delta, LineCurrents.Of(HeaterConnection.Delta, aged, Volt)));
    }

    [Fact]
    public void Missing_data_give_no_figure()
    {
        Assert.Equal(double.NaN, HeaterRating.LineAmpere(0, Volt));
        Assert.Equal(double.NaN, HeaterRating.LegOhm(HeaterConnection.None, 36, Volt));
        Assert.Equal(double.NaN, HeaterRating.PowerShare(400, 0));
        Assert.Equal(double.NaN, LineCurrents.Of(HeaterConnection.None, new LegResistances(1, 1, 1), Volt).PowerKw);
        Assert.Equal(double.NaN, LineCurrents.Of(HeaterConnection.Star, new LegResistances(1, 0, 1), Volt).FirstAmpere);
        Assert.Equal(double.NaN, LineCurrents.Of(HeaterConnection.Star, new LegResistances(1, 1, 1), double.NaN).FirstAmpere);
    }

    private static CurrentPattern Recognise(HeaterConnection connection, LineCurrents currents) =>
        CurrentPatterns.Recognise(connection, currents.FirstAmpere, currents.SecondAmpere, currents.ThirdAmpere, 0.5);

    private static LineCurrents Currents(HeaterConnection connection, string fault)
    {
        double leg = HeaterRating.LegOhm(connection, 36, Volt);
        const double Open = double.PositiveInfinity;
        LegResistances legs = fault switch
        {
            "leg12" => new LegResistances(Open, leg, leg),
            "leg23" => new LegResistances(leg, Open, leg),
            "leg3high" or "leg31high" => new LegResistances(leg, leg, 1.1 * leg),
            "leg3" or "leg31" => new LegResistances(leg, leg, Open),
            _ => new LegResistances(leg, leg, leg),
        };
        LostLine lost = fault switch
        {
            "line1" => LostLine.First,
            "line2" => LostLine.Second,
            "line3" => LostLine.Third,
            _ => LostLine.None,
        };
        return LineCurrents.Of(connection, legs, Volt, lost);
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
