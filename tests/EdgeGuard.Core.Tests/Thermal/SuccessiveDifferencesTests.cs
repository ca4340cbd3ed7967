using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Tests.Thermal;

public sealed class SuccessiveDifferencesTests
{
    // von Neumann, Kent, Bellinson, Hart (Annals of Mathematical Statistics 12, 1941): for n independent normal readings half the
    // mean square successive difference has the mean sigma squared and the variance sigma^4 (3n - 4) / (n - 1)^2. Over 400 windows
    // of 100 readings its mean is known to 0.87 %; held to four times that. A ramp of ten sigma a reading changes nothing.
    [Trait("requirement", "SENS-9")]
    [Theory]
    [InlineData(0.02, 0)]
    [InlineData(1.5, 0)]
    [InlineData(1.5, 15)]
    [InlineData(0.02, -0.2)]
    public void The_scatter_is_that_of_the_readings_whatever_ramp_they_lie_on(double sigma, double ramp)
    {
        var random = new Random(41);
        var window = new SuccessiveDifferences();
        double variances = 0;
        for (int w = 0; w < 400; w++)
        {
            window.Clear();
            for (int i = 0; i < 100; i++)
            {
                window.Add(600 + (ramp * i) + (sigma * Noise.Normal(random)));
            }

            variances += window.Scatter * window.Scatter / 400;
        }

        Assert.Equal(1, variances / (sigma * sigma), 4 * Math.Sqrt(((3 * 100) - 4) / (99.0 * 99) / 400));
    }

    // A fair coin: eleven throws alike are ten without a change, 2^-10.
    [Theory]
    [InlineData(0.5, 11, 1.0 / 1024)]
    [InlineData(0.5, 1, 1)]
    [InlineData(0, 1_000, 1)]
    [InlineData(1, 2, 0)]
    [InlineData(0.1, 4, 0.729)]
    public void A_run_without_a_change_has_the_chance_of_its_throws(double changedShare, int length, double expected) =>
        Assert.Equal(expected, SuccessiveDifferences.ChanceOfRun(changedShare, length), 1e-12);

    [Fact]
    public void Too_few_readings_scatter_by_nothing_and_what_is_no_number_is_left_out()
    {
        var window = new SuccessiveDifferences();
        window.Add(1);
        window.Add(double.NaN);
        window.Add(5);
        Assert.Equal((2, 0.0, 1.0), (window.Count, window.Scatter, window.ChangedShare));

        // 1, 5, 4, 4: differences 4, −1, 0 about their mean 1: squares 9, 4, 1; 14 / 2 / 2 = 3.5.
        window.Add(4);
        window.Add(4);
        Assert.Equal(Math.Sqrt(3.5), window.Scatter, 1e-12);
        Assert.Equal(2.0 / 3, window.ChangedShare, 1e-12);
    }
}
