using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Commands;
using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Service.Thermocouples;

namespace EdgeGuard.Acceptance.Tests.Commands;

/// <summary>`calc` as a person meets it; the figures themselves are held against published values where they are computed.</summary>
public sealed class CalcCommandTests
{
    // NASA-9 (NASA/TP-2002-211556): 100 kg/h of air from 20 to 1100 °C take 33.06 kW, 0.3306 kW per kg/h; with 60 kW 1887 °C.
    [Fact]
    public void Two_of_outlet_flow_and_power_give_the_third()
    {
        Assert.Matches(@"^100\.0 kg/h from 20 to 1100\.0 °C take 33\.0[56] kW \(0\.330[56] kW per kg/h\)", CalcGas.Lines(Gas.Air, 20, 1100, 100, double.NaN)[0]);
        Assert.StartsWith("100.0 kg/h from 20 to 1100.0", CalcGas.Lines(Gas.Air, 20, 1100, double.NaN, 33.06)[0], StringComparison.Ordinal);
        Assert.Contains("to 1887", CalcGas.Lines(Gas.Air, 20, double.NaN, 100, 60)[0], StringComparison.Ordinal);
        Assert.Contains("77.4 Nm³/h (0 °C), 81.6 Sm³/h (15 °C), 83.0 m³/h at 20 °C", CalcGas.Lines(Gas.Air, 20, 1100, 100, double.NaN)[1], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(20, double.NaN, double.NaN, 60)]
    [InlineData(20, 1100, 100, 60)]
    [InlineData(20, 10, 100, double.NaN)]
    [InlineData(20, double.NaN, 0, 60)]
    [InlineData(20, double.NaN, 10, 60)]
    [InlineData(20, 3000, 100, double.NaN)]
    public void Data_that_give_no_figure_give_no_line(double inlet, double outlet, double flow, double power) =>
        Assert.Empty(CalcGas.Lines(Gas.Air, inlet, outlet, flow, power));

    [Fact]
    public void Legs_are_told_with_what_the_terminals_hide()
    {
        IReadOnlyList<string> lines = CalcHeater.Legs(HeaterConnection.Delta, 16.25806, 16.25806, 17.03226, "FeCrAl 25-5", 950);
        Assert.Equal("legs 12, 23, 31: 24.000, 24.000, 26.400 Ω", lines[0]);
        Assert.Equal("largest over smallest: 10.0 % between the legs, 4.8 % between the terminals", lines[1]);
        Assert.Contains("(factor 1.0430): 23.011, 23.011, 25.312 Ω", lines[2], StringComparison.Ordinal);
        Assert.Empty(CalcHeater.Legs(HeaterConnection.Star, 16, 16, 40, null, double.NaN));
        Assert.Empty(CalcHeater.Legs(HeaterConnection.Star, 16, 16, 16, "FeCrAl 25-5", 1500));
        Assert.Equal(2, CalcHeater.Legs(HeaterConnection.Star, 16, 16, 16, null, double.NaN).Count);
    }

    [Fact]
    public void Unbalance_and_rating_are_told()
    {
        Assert.Equal(["largest deviation from the mean 1.087 %", "negative ÷ positive sequence 1.091 %"], CalcHeater.Unbalances(462, 463, 455));
        Assert.Empty(CalcHeater.Unbalances(462, -1, 455));
        IReadOnlyList<string> rating = CalcHeater.Rating(HeaterConnection.Delta, 60, 400);
        Assert.StartsWith("86.60 A a line; 8.000 Ω a leg; 5.333 Ω between terminals", rating[0], StringComparison.Ordinal);
        Assert.Contains("40.00 kW, largest deviation 39.2 %, negative sequence 50.0 %", rating[1], StringComparison.Ordinal);
        Assert.Contains("30.00 kW, largest deviation 100.0 %", rating[2], StringComparison.Ordinal);
        Assert.Contains("72.60 kW, largest deviation 0.0 %", rating[4], StringComparison.Ordinal);
        Assert.Empty(CalcHeater.Rating(HeaterConnection.Star, 0, 400));
    }

    // NIST SRD 60; tolerance of IEC 60584-1 from a public transcription.
    [Fact]
    public void A_thermocouple_is_told_with_tolerance_and_wrong_types()
    {
        IReadOnlyList<string> lines = CalcSensor.Lines(ThermocoupleType.N, 1100, 0);
        Assert.StartsWith("type N at 1100 °C, terminals at 0 °C: 40.087 mV, 37.98 µV/K", lines[0], StringComparison.Ordinal);
        Assert.Equal("tolerance as delivered: class 1 not defined here, class 2 ± 8.25 K", lines[1]);
        Assert.Equal("an input set to type K would read 969.6 °C (low: dangerous)", lines[2]);
        Assert.Equal("an input set to type S would read out of its range", lines[3]);
        Assert.Empty(CalcSensor.Lines(ThermocoupleType.N, 1400, 0));
    }

    [Fact]
    public void Insulation_passes_or_not_by_its_rule()
    {
        Assert.Contains("passes: at least 0.3 MΩ at 500 V DC", CalcHeater.Insulation(InsulationRule.EquipmentClassIHeating, 0.35, 500)[0], StringComparison.Ordinal);
        Assert.Contains("DOES NOT PASS: at least 1 MΩ at 500 V DC", CalcHeater.Insulation(InsulationRule.Machine, 0.35, 500)[0], StringComparison.Ordinal);
    }

    [Trait("requirement", "FAST-4")]
    [Fact]
    public void Every_page_says_that_it_is_computed_and_no_figure_is_a_wrong_command_line()
    {
        using var output = new StringWriter();
        using var errors = new StringWriter();
        Assert.Equal(ExitCode.Good, CalcCommand.Print(["1 Ω"], "x", output, errors));
        Assert.Contains("Computed from entered data, not a validation", output.ToString(), StringComparison.Ordinal);
        Assert.Equal(ExitCode.Usage, CalcCommand.Print([], "try another", output, errors));
        Assert.Contains("these data give no figure; try another", errors.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("gas")]
    [InlineData("legs")]
    [InlineData("rating")]
    [InlineData("thermocouple")]
    [InlineData("insulation")]
    public void Help_shows_no_default_where_there_is_none(string computation)
    {
        CommandLine help = CommandLine.Run("calc", computation, "--help");
        Assert.Equal(ExitCode.Good, help.ExitCode);
        Assert.Contains("Options:", help.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("default", help.Output, StringComparison.Ordinal);
    }

    /// <summary>Zero is a temperature like any other; an option that is not given is none. NIST SRD 60: type K, 1000 °C, 41.276 mV; 25 °C, 1.000 mV; tables to 1 µV.</summary>
    [Theory]
    [InlineData("terminals at 0 °C: 41.276 mV")]
    [InlineData("terminals at 25 °C: 40.27", "--terminal", "25")]
    public void An_option_that_is_not_given_is_no_zero_and_one_that_is_counts(string words, params string[] further)
    {
        CommandLine told = CommandLine.Run(["calc", "thermocouple", "--type", "K", "--celsius", "1000", .. further]);
        Assert.Contains(words, told.Output, StringComparison.Ordinal);
        Assert.Equal(ExitCode.Usage, CommandLine.Run("calc", "gas", "--gas", "air", "--inlet", "20", "--outlet", "1100").ExitCode);
    }
}
