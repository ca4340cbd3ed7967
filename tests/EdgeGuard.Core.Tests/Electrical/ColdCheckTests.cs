using System.Globalization;
using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Tests.Thermal;

namespace EdgeGuard.Core.Tests.Electrical;

public sealed class ColdCheckTests
{
    [Trait("requirement", "ELEC-4")]
    [Fact]
    public void Factors_are_those_of_the_grade_table()
    {
        int compared = 0;
        foreach (string[] row in Vectors.Rows("alloy-factors.csv"))
        {
            TemperatureFactorTable grade = Assert.IsType<TemperatureFactorTable>(HeatingAlloys.Find(row[0]));
            for (int i = 1; i < row.Length; i++)
            {
                double celsius = i == 1 ? 20 : 100 * (i - 1);
                Assert.Equal(double.Parse(row[i], CultureInfo.InvariantCulture), grade.FactorAt(celsius), 1e-12);
                compared++;
            }
        }

        Assert.Equal(77, compared);
        Assert.Equal(6, HeatingAlloys.All.Count);
        Assert.Null(HeatingAlloys.Find("FeCrAl"));
    }

    // By hand: half way from 1.042 at 900 to 1.044 at 1000 °C is 1.0430: 10 Ω cold are 10.430 Ω; 400 V then give 15.34 kW instead of 16.
    [Fact]
    public void Between_two_points_lies_a_straight_line()
    {
        Assert.Equal(1.0430, HeatingAlloys.FeCrAl25Al5.FactorAt(950), 1e-12);
        Assert.Equal(10, HeatingAlloys.FeCrAl25Al5.OhmAt20C(10.430, 950), 1e-12);
        Assert.Equal(15.34, 400 * 400 / (10 * HeatingAlloys.FeCrAl25Al5.FactorAt(950)) / 1000, 0.005);
    }

    // What makes resistance useless as a thermometer: 4.6 % over the whole range, a sign that depends on the grade, a hump.
    [Fact]
    public void Grades_differ_in_sign_and_one_is_not_monotonic()
    {
        Assert.Equal(0.046, HeatingAlloys.FeCrAl25Al5.FactorAt(1100) - 1, 1e-12);
        Assert.True(HeatingAlloys.FeCrAl27Al7Mo2.FactorAt(1100) < 1);
        Assert.True(HeatingAlloys.NiCr80.FactorAt(800) < HeatingAlloys.NiCr80.FactorAt(500));
        Assert.True(HeatingAlloys.NiCr80.FactorAt(800) < HeatingAlloys.NiCr80.FactorAt(1200));
    }

    [Trait("requirement", "ELEC-4")]
    [Theory]
    [InlineData(19.9)]
    [InlineData(1200.1)]
    [InlineData(double.NaN)]
    public void Beyond_the_points_there_is_no_factor(double celsius)
    {
        Assert.Equal(double.NaN, HeatingAlloys.FeCrAl25Al5.FactorAt(celsius));
        Assert.Equal(double.NaN, HeatingAlloys.FeCrAl25Al5.OhmAt20C(10, celsius));
    }

    [Theory]
    [InlineData(new double[] { 20 }, new double[] { 1 }, "two points")]
    [InlineData(new double[] { 20, 100 }, new double[] { 1 }, "factor for each")]
    [InlineData(new double[] { 20, 20 }, new double[] { 1, 1 }, "rise")]
    [InlineData(new double[] { 20, double.NaN }, new double[] { 1, 1 }, "rise")]
    [InlineData(new double[] { 20, 100 }, new double[] { 1, 0 }, "above 0")]
    [InlineData(new double[] { 25, 100 }, new double[] { 1, 1 }, "at 20")]
    [InlineData(new double[] { 20, 100 }, new double[] { 1.01, 1 }, "at 20")]
    public void Points_that_are_no_table_are_refused(double[] celsius, double[] factor, string words)
    {
        ArgumentException fault = Assert.Throws<ArgumentException>(() => new TemperatureFactorTable("X", celsius, factor));
        Assert.Contains(words, fault.Message, StringComparison.Ordinal);
    }

    // IEC 60204-1 §18.3, IEC 60364-6 table 6A, DIN VDE 0701-0702: all from memory and public summaries.
    [Trait("requirement", "ELEC-5")]
    [Theory]
    [InlineData(InsulationRule.Machine, 500, 1)]
    [InlineData(InsulationRule.MachineSlipRings, 500, 0.05)]
    [InlineData(InsulationRule.InstallationExtraLow, 250, 0.5)]
    [InlineData(InsulationRule.InstallationLow, 500, 1)]
    [InlineData(InsulationRule.InstallationHigh, 1000, 1)]
    [InlineData(InsulationRule.EquipmentClassI, 500, 1)]
    [InlineData(InsulationRule.EquipmentClassIHeating, 500, 0.3)]
    [InlineData(InsulationRule.EquipmentClassII, 500, 2)]
    [InlineData(InsulationRule.EquipmentClassIII, 250, 0.25)]
    public void Insulation_limits_are_those_of_the_rule(InsulationRule rule, double volt, double megohm)
    {
        Assert.Equal(volt, InsulationLimits.TestVolt(rule));
        Assert.Equal(megohm, InsulationLimits.LeastMegohm(rule));
        Assert.True(InsulationLimits.Passes(rule, megohm, volt));
        Assert.False(InsulationLimits.Passes(rule, 0.99 * megohm, volt));
        Assert.False(InsulationLimits.Passes(rule, megohm, volt / 2));
        Assert.False(InsulationLimits.Passes(rule, double.NaN, volt));
    }

    [Fact]
    public void Without_a_rule_nothing_passes()
    {
        Assert.False(InsulationLimits.Passes(InsulationRule.None, 1000, 1000));
        Assert.False(InsulationLimits.Passes((InsulationRule)99, 1000, 1000));
    }

    // IEC 60335-1 §13.2, from memory: 0.75 mA per kW, at most 5 mA.
    [Theory]
    [InlineData(3.5, 2.625)]
    [InlineData(36, 5)]
    [InlineData(double.NaN, 0)]
    public void Leakage_of_a_heating_appliance(double kw, double milliampere) =>
        Assert.Equal(milliampere, InsulationLimits.LeakageLimitMilliampere(kw), 1e-12);
}
