using EdgeGuard.Reports.Text;

namespace EdgeGuard.Reports.Tests;

public sealed class TextPictureTests
{
    private static readonly PlantView Heating = new()
    {
        Unit = "N-1",
        Purpose = "nitrogen, calcining",
        State = "HEATING",
        Time = "12:34",
        KeySupervised = true,
        Permit = true,
        Relay = true,
        Enable = true,
        PowerKw = 26.7,
        RatedKw = 36,
        OutputPercent = 74.2,
        SetpointC = 650,
        BlowerPercent = 80,
        FlowKgPerHour = 140.3,
        FlowLimitKgPerHour = 70,
        InletC = 40,
        ElementC = 728.4,
        ElementTripC = 850,
        OutletC = 649.8,
        OutletTripC = 720,
    };

    [Fact]
    public void The_picture_shows_every_number_with_its_unit()
    {
        string picture = TextPicture.Draw(Heating, colour: false);
        foreach (string part in (string[])["N-1", "HEATING", "SUPERVISED", "26.7 kW", "36 kW", "74.2 %", "650.0 °C", "80.0 %", "140.3 kg/h", "40.0 °C", "728.4 °C", "649.8 °C", "850", "720", "70"])
        {
            Assert.Contains(part, picture, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_size_never_changes_so_that_it_can_be_drawn_over_itself()
    {
        PlantView[] views = [Heating, new PlantView { Unit = "A-1", State = "TRIPPED", Tripped = true }, Heating with { Unit = new string('U', 300), Purpose = "line\nfeed" }];
        foreach (PlantView view in views)
        {
            string[] lines = TextPicture.Draw(view, colour: false).Split('\n');
            Assert.Equal(TextPicture.Height + 1, lines.Length);
            Assert.All(lines, line => Assert.InRange(line.Length, 0, TextPicture.Width));
        }
    }

    [Fact]
    public void Unknown_numbers_are_shown_as_unknown_and_never_as_zero()
    {
        string picture = TextPicture.Draw(new PlantView { Unit = "A-1", State = "TRIPPED" }, colour: false);
        Assert.Contains("-- kW", picture, StringComparison.Ordinal);
        Assert.Contains("permit ?", picture, StringComparison.Ordinal);
        Assert.DoesNotContain("0.0", picture, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_colour_there_is_no_escape_and_with_colour_the_text_is_the_same()
    {
        string plain = TextPicture.Draw(Heating, colour: false);
        string coloured = TextPicture.Draw(Heating, colour: true);
        Assert.DoesNotContain('\u001b', plain);
        Assert.Contains('\u001b', coloured);
        Assert.Equal(plain, System.Text.RegularExpressions.Regex.Replace(coloured, "\u001b\\[[0-9;]*m", "", System.Text.RegularExpressions.RegexOptions.None, TimeSpan.FromSeconds(1)));
    }

    [Fact]
    public void A_plain_terminal_gets_ASCII_only() =>
        Assert.All(TextPicture.Draw(Heating, colour: false, unicode: false), c => Assert.InRange(c, '\n', '~'));

    [Fact]
    public void Gas_that_does_not_flow_has_no_arrow()
    {
        Assert.Contains("═►", TextPicture.Draw(Heating, colour: false), StringComparison.Ordinal);
        Assert.DoesNotContain("═►", TextPicture.Draw(Heating with { FlowKgPerHour = 0 }, colour: false), StringComparison.Ordinal);
        Assert.DoesNotContain("═►", TextPicture.Draw(Heating with { FlowKgPerHour = double.NaN }, colour: false), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0, "░░░░")]
    [InlineData(50, "██░░")]
    [InlineData(100, "████")]
    [InlineData(900, "████")]
    [InlineData(-5, "░░░░")]
    [InlineData(double.NaN, "░░░░")]
    [InlineData(double.PositiveInfinity, "░░░░")]
    public void A_bar_is_filled_in_proportion(double value, string bar) => Assert.Equal(bar, TextBars.Bar(value, 100, 4));

    [Fact]
    public void A_line_of_characters_keeps_the_peak()
    {
        double[] values = new double[1000];
        values[617] = 100;
        string line = TextBars.Line(values, 100, 10);
        Assert.Equal("▁▁▁▁▁▁█▁▁▁", line);
        Assert.Equal(" ▁█", TextBars.Line([double.NaN, 0, 5], 5, 3));
        Assert.Equal("   ", TextBars.Line([], 5, 3));
    }
}
