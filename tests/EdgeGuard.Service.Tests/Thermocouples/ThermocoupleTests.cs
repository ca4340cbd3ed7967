using System.Globalization;
using CsCheck;
using EdgeGuard.Service.Thermocouples;

namespace EdgeGuard.Service.Tests.Thermocouples;

public sealed class ThermocoupleTests
{
    // Printed tables give three decimals of a millivolt; the vectors four.
    private const double MillivoltTolerance = 1e-4;

    [Trait("requirement", "THCP-1")]
    [Fact]
    public void Reference_functions_give_the_published_voltages_and_sensitivities()
    {
        int rows = 0;
        foreach (string[] row in Rows())
        {
            var type = Enum.Parse<ThermocoupleType>(row[0]);
            double celsius = Number(row[1]);
            Assert.Equal(Number(row[2]), ThermocoupleReference.Millivolt(type, celsius), MillivoltTolerance);
            Assert.Equal(Number(row[3]), ThermocoupleReference.MicrovoltPerK(type, celsius), 0.011);
            rows++;
        }

        Assert.Equal(30, rows);
    }

    // One public file carries a coefficient of K below 0 °C with the wrong sign, others leave out the exponential: both
    // would pass at 0 °C and above 300 °C. Steepness against differences of the function itself.
    [Fact]
    public void Sensitivity_is_the_slope_of_the_voltage()
    {
        Gen.Select(Gen.Int[1, 3].Select(i => (ThermocoupleType)i), Gen.Double[-49, 1299]).Sample((type, celsius) =>
        {
            if (Math.Abs(celsius) > 0.02 && Math.Abs(celsius - 1064.18) > 0.02)
            {
                double slope = 1000 * (ThermocoupleReference.Millivolt(type, celsius + 0.01) - ThermocoupleReference.Millivolt(type, celsius - 0.01)) / 0.02;
                Assert.Equal(slope, ThermocoupleReference.MicrovoltPerK(type, celsius), 1e-3);
            }
        });
    }

    [Trait("requirement", "THCP-1")]
    [Fact]
    public void The_way_back_returns_to_the_temperature()
    {
        Gen.Select(Gen.Int[1, 3].Select(i => (ThermocoupleType)i), Gen.Double[-49, 1299]).Sample((type, celsius) =>
            Assert.Equal(celsius, ThermocoupleReference.Celsius(type, ThermocoupleReference.Millivolt(type, celsius)), 1e-6));
    }

    // The inverse polynomial of NIST for K, 20.644 to 54.886 mV, good to ±0.05 K; coefficients from memory.
    [Theory]
    [InlineData(20.65)]
    [InlineData(33.275)]
    [InlineData(45.119)]
    [InlineData(54.8)]
    public void The_way_back_agrees_with_the_published_inverse(double millivolt)
    {
        double[] d = [-131.8058, 48.30222, -1.646031, .05464731, -9.650715e-4, 8.802193e-6, -3.11081e-8];
        double celsius = 0;
        for (int i = d.Length - 1; i >= 0; i--)
        {
            celsius = (celsius * millivolt) + d[i];
        }

        Assert.Equal(celsius, ThermocoupleReference.Celsius(ThermocoupleType.K, millivolt), 0.06);
    }

    [Fact]
    public void The_branches_of_each_function_meet()
    {
        foreach ((ThermocoupleType type, double joint) in new[] { (ThermocoupleType.K, 0.0), (ThermocoupleType.N, 0.0), (ThermocoupleType.S, 1064.18) })
        {
            double below = ThermocoupleReference.Millivolt(type, joint - 1e-6);
            double above = ThermocoupleReference.Millivolt(type, joint + 1e-6);
            Assert.Equal(below, above, 1e-5);
        }
    }

    [Theory]
    [InlineData(ThermocoupleType.K, 1373)]
    [InlineData(ThermocoupleType.N, 1301)]
    [InlineData(ThermocoupleType.S, -51)]
    [InlineData(ThermocoupleType.S, 1665)]
    [InlineData(ThermocoupleType.K, double.NaN)]
    [InlineData(ThermocoupleType.None, 20)]
    public void Outside_its_range_a_function_has_no_value(ThermocoupleType type, double celsius)
    {
        Assert.Equal(double.NaN, ThermocoupleReference.Millivolt(type, celsius));
        Assert.Equal(double.NaN, ThermocoupleReference.MicrovoltPerK(type, celsius));
        Assert.Equal(double.NaN, ThermocoupleReference.Celsius(type, 60));
    }

    // IEC 60584-1:2013, from a public transcription.
    [Theory]
    [InlineData(ThermocoupleType.K, 1, 500, 2.0)]
    [InlineData(ThermocoupleType.K, 2, 500, 3.75)]
    [InlineData(ThermocoupleType.K, 1, 1000, 4.0)]
    [InlineData(ThermocoupleType.N, 2, 1000, 7.5)]
    [InlineData(ThermocoupleType.N, 2, 1100, 8.25)]
    [InlineData(ThermocoupleType.K, 1, 20, 1.5)]
    [InlineData(ThermocoupleType.K, 2, 20, 2.5)]
    [InlineData(ThermocoupleType.K, 1, -40, 1.5)]
    [InlineData(ThermocoupleType.S, 1, 1100, 1.0)]
    [InlineData(ThermocoupleType.S, 1, 1600, 2.5)]
    [InlineData(ThermocoupleType.S, 2, 1100, 2.75)]
    [InlineData(ThermocoupleType.S, 2, 20, 1.5)]
    public void Tolerances_are_those_of_the_standard(ThermocoupleType type, int toleranceClass, double celsius, double kelvin) =>
        Assert.Equal(kelvin, ThermocoupleTolerance.Kelvin(type, toleranceClass, celsius), 1e-9);

    [Theory]
    [InlineData(ThermocoupleType.K, 1, 1000.1)]
    [InlineData(ThermocoupleType.N, 1, 1100)]
    [InlineData(ThermocoupleType.K, 2, 1200.1)]
    [InlineData(ThermocoupleType.S, 1, -1)]
    [InlineData(ThermocoupleType.K, 3, 500)]
    [InlineData(ThermocoupleType.None, 1, 500)]
    public void Where_a_class_ends_there_is_no_tolerance(ThermocoupleType type, int toleranceClass, double celsius) =>
        Assert.Equal(double.NaN, ThermocoupleTolerance.Kelvin(type, toleranceClass, celsius));

    // Both functions of NIST SRD 60, terminals at 0 °C.
    [Trait("requirement", "THCP-2")]
    [Theory]
    [InlineData(ThermocoupleType.K, ThermocoupleType.N, 500, 600.80)]
    [InlineData(ThermocoupleType.K, ThermocoupleType.N, 1000, 1131.40)]
    [InlineData(ThermocoupleType.N, ThermocoupleType.K, 1100, 969.62)]
    public void A_wrong_type_reads_far_off(ThermocoupleType fitted, ThermocoupleType set, double celsius, double reading) =>
        Assert.Equal(reading, SensorMismatch.ReadingC(fitted, set, celsius, 0), 0.01);

    [Fact]
    public void The_right_type_reads_right_whatever_the_terminals_have() =>
        Assert.Equal(850, SensorMismatch.ReadingC(ThermocoupleType.K, ThermocoupleType.K, 850, 35), 1e-6);

    private static IEnumerable<string[]> Rows() =>
        File.ReadLines(Path.Combine(AppContext.BaseDirectory, "vectors", "thermocouples.csv"))
            .Where(line => line.Length > 0 && line[0] != '#').Skip(1).Select(line => line.Split(','));

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
