using System.Globalization;
using System.Numerics;
using CsCheck;
using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Tests.Thermal;

namespace EdgeGuard.Core.Tests.Electrical;

public sealed class UnbalanceTests
{
    private const int MostPercent = 100;

    [Trait("requirement", "ELEC-1")]
    [Fact]
    public void Published_examples_come_out()
    {
        int compared = 0;
        foreach (string[] row in Vectors.Rows("unbalance.csv"))
        {
            double a = Number(row[0]), b = Number(row[1]), c = Number(row[2]);
            Assert.Equal(Number(row[3]), Unbalance.MaxDeviationPercent(a, b, c), 1e-4);
            compared++;
            if (row[4].Length > 0)
            {
                Assert.Equal(Number(row[4]), Unbalance.NegativeSequencePercent(a, b, c), 1e-4);
                compared++;
            }
        }

        Assert.Equal(7, compared);
    }

    // Symmetrical components by their definition (Fortescue): three phasors that close a triangle with these sides,
    // turned by 120 degrees and added.
    [Trait("requirement", "ELEC-1")]
    [Fact]
    public void Negative_sequence_agrees_with_symmetrical_components_of_the_triangle()
    {
        Gen.Select(Gen.Double[1, 3], Gen.Double[1, 3], Gen.Double[0.05, 0.95]).Sample((a, b, share) =>
        {
            double c = Math.Abs(a - b) + (share * (a + b - Math.Abs(a - b)));
            Assert.Equal(Components(a, b, c), Unbalance.NegativeSequencePercent(a, b, c), 1e-3);
        });
    }

    [Fact]
    public void Order_and_scale_do_not_matter()
    {
        Gen.Select(Gen.Double[0, 500], Gen.Double[0, 500], Gen.Double[0.1, 500]).Sample((a, b, c) =>
        {
            Assert.Equal(Unbalance.NegativeSequencePercent(a, b, c), Unbalance.NegativeSequencePercent(1000 * c, 1000 * a, 1000 * b), 1e-5);
            Assert.Equal(Unbalance.MaxDeviationPercent(a, b, c), Unbalance.MaxDeviationPercent(1000 * b, 1000 * c, 1000 * a), 1e-9);
            Assert.InRange(Unbalance.NegativeSequencePercent(a, b, c), 0, MostPercent);
        });
    }

    [Fact]
    public void Equal_values_are_balanced_and_so_are_three_zeros()
    {
        Assert.Equal(0, Unbalance.NegativeSequencePercent(52.0, 52.0, 52.0), 1e-5);
        Assert.Equal(0, Unbalance.MaxDeviationPercent(52.0, 52.0, 52.0));
        Assert.Equal(0, Unbalance.NegativeSequencePercent(0, 0, 0));
        Assert.Equal(0, Unbalance.MaxDeviationPercent(0, 0, 0));
    }

    // One line alone carries current: no three phasors of that size add up to zero.
    [Fact]
    public void Values_that_close_no_triangle_are_wholly_unbalanced() =>
        Assert.Equal(MostPercent, Unbalance.NegativeSequencePercent(52, 0, 0));

    [Theory]
    [InlineData(double.NaN, 50, 50)]
    [InlineData(50, double.PositiveInfinity, 50)]
    [InlineData(50, 50, -1)]
    public void What_is_no_magnitude_is_never_balanced(double a, double b, double c)
    {
        Assert.Equal(double.PositiveInfinity, Unbalance.NegativeSequencePercent(a, b, c));
        Assert.Equal(double.PositiveInfinity, Unbalance.MaxDeviationPercent(a, b, c));
    }

    private static double Components(double a, double b, double c)
    {
        // Sides a, b, c head to tail: cosine rule.
        double cosine = ((a * a) + (b * b) - (c * c)) / (2 * a * b);
        Complex first = a;
        Complex second = -b * new Complex(cosine, Math.Sqrt(Math.Max(0, 1 - (cosine * cosine))));
        Complex third = -(first + second);
        var turn = Complex.FromPolarCoordinates(1, 2 * Math.PI / 3);
        double one = (first + (turn * second) + (turn * turn * third)).Magnitude;
        double two = (first + (turn * turn * second) + (turn * third)).Magnitude;
        return 100 * Math.Min(one, two) / Math.Max(one, two);
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
