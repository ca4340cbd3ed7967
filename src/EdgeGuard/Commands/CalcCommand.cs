using System.CommandLine;
using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Service.Thermocouples;

namespace EdgeGuard.Commands;

/// <summary>
/// `edgeguard calc …`: the computations of the project for a person at the heater, without a site: power and flow of a gas,
/// legs from terminal readings, unbalance, rating, thermocouples, insulation. Data that give no figure end with 64.
/// </summary>
internal static class CalcCommand
{
    private const string Caveat = "Computed from entered data, not a validation.";

    public static Command Create() => new("calc", "Compute a figure from data at hand. Example: edgeguard calc gas --gas air --inlet 20 --outlet 1100 --flow 100")
    {
        Gases(),
        Legs(),
        Unbalances(),
        Rating(),
        Thermocouples(),
        Insulation(),
    };

    /// <summary>Prints lines and the caveat; nothing but an error when the data give no figure.</summary>
    internal static int Print(IReadOnlyList<string> lines, string otherwise, TextWriter output, TextWriter errors)
    {
        if (lines.Count == 0)
        {
            errors.WriteLine($"edgeguard: these data give no figure; {otherwise}");
            return ExitCode.Usage;
        }

        foreach (string line in lines)
        {
            output.WriteLine(line);
        }

        output.WriteLine(Caveat);
        return ExitCode.Good;
    }

    private static Command Gases()
    {
        var gas = new Option<string>("--gas") { Description = "air, N2, Ar, CO2 or O2.", Required = true };
        gas.AcceptOnlyFromAmong("air", "N2", "Ar", "CO2", "O2");
        Option<double?> inlet = Number("--inlet", "Inlet temperature, °C.", required: true);
        Option<double?> outlet = Number("--outlet", "Outlet temperature or ceiling, °C.");
        Option<double?> flow = Number("--flow", "Mass flow, kg/h.");
        Option<double?> power = Number("--power", "Power, kW.");
        var command = new Command("gas", "Two of outlet, flow and power give the third; flow also as volume in the usual reference states. No losses.") { gas, inlet, outlet, flow, power };
        command.SetAction(p => Print(
            CalcGas.Lines(Named(p.GetValue(gas)!), p.Value(inlet), p.Value(outlet), p.Value(flow), p.Value(power)),
            "expected an inlet and two of --outlet, --flow, --power, all above the inlet or 0; try --outlet with --flow", Console.Out, Console.Error));
        return command;
    }

    private static Command Legs()
    {
        var connection = Connection();
        var readings = new Argument<double[]>("OHM") { Description = "Readings between terminals 1-2, 2-3, 3-1, Ω.", Arity = new ArgumentArity(3, 3) };
        var alloy = new Option<string>("--alloy") { Description = "Grade of the wire, to bring the legs back to 20 °C: " + string.Join(", ", HeatingAlloys.All.Select(a => a.Name)) + "." };
        alloy.AcceptOnlyFromAmong([.. HeatingAlloys.All.Select(a => a.Name)]);
        Option<double?> celsius = Number("--celsius", "Temperature of the wire at the reading, °C.");
        var command = new Command("legs", "Legs of a heater from three terminal readings. Example: edgeguard calc legs --connection delta 16.26 16.26 17.03") { connection, readings, alloy, celsius };
        command.SetAction(p =>
        {
            double[] ohm = p.GetValue(readings)!;
            return Print(
                CalcHeater.Legs(Joined(p.GetValue(connection)!), ohm[0], ohm[1], ohm[2], p.GetValue(alloy), p.Value(celsius)),
                "a leg is open, a reading wrong, the connection another, or --celsius lies outside the points of the alloy", Console.Out, Console.Error);
        });
        return command;
    }

    private static Command Unbalances()
    {
        var values = new Argument<double[]>("VALUE") { Description = "Three line voltages or three line currents.", Arity = new ArgumentArity(3, 3) };
        var command = new Command("unbalance", "Unbalance of three values in both forms. Example: edgeguard calc unbalance 462 463 455") { values };
        command.SetAction(p =>
        {
            double[] v = p.GetValue(values)!;
            return Print(CalcHeater.Unbalances(v[0], v[1], v[2]), "expected three values of 0 or above", Console.Out, Console.Error);
        });
        return command;
    }

    private static Command Rating()
    {
        var connection = Connection();
        Option<double?> kw = Number("--power", "Rated power, kW.", required: true);
        Option<double?> volt = Number("--volts", "Voltage between two lines, V.", required: true);
        var command = new Command("rating", "What a rating implies: amperes, ohms, and the currents with an open leg or a lost line.") { connection, kw, volt };
        command.SetAction(p => Print(
            CalcHeater.Rating(Joined(p.GetValue(connection)!), p.Value(kw), p.Value(volt)),
            "expected a power and a voltage above 0", Console.Out, Console.Error));
        return command;
    }

    private static Command Thermocouples()
    {
        var type = new Option<string>("--type") { Description = "K, N or S.", Required = true };
        type.AcceptOnlyFromAmong("K", "N", "S");
        Option<double?> celsius = Number("--celsius", "Temperature of the measuring junction, °C.", required: true);
        Option<double?> terminal = Number("--terminal", "Temperature of the terminals, °C; 0 unless given.");
        var command = new Command("thermocouple", "Voltage to inject, tolerance, and what an input of another type would read.") { type, celsius, terminal };
        command.SetAction(p => Print(
            CalcSensor.Lines(Enum.Parse<ThermocoupleType>(p.GetValue(type)!), p.Value(celsius), p.GetValue(terminal) ?? 0),
            "the temperature lies outside the reference function of this type", Console.Out, Console.Error));
        return command;
    }

    private static Command Insulation()
    {
        string[] rules = [.. Enum.GetNames<InsulationRule>().Where(n => n is not nameof(InsulationRule.None))];
        var rule = new Option<string>("--rule") { Description = "One of " + string.Join(", ", rules) + ".", Required = true };
        rule.AcceptOnlyFromAmong(rules);
        Option<double?> megohm = Number("--megohm", "Reading, MΩ.", required: true);
        Option<double?> volt = Number("--volts", "Test voltage, V DC.", required: true);
        var command = new Command("insulation", "Judge an insulation resistance by a named rule. Exit code 1 when it does not pass.") { rule, megohm, volt };
        command.SetAction(p =>
        {
            InsulationRule named = Enum.Parse<InsulationRule>(p.GetValue(rule)!);
            int code = Print(CalcHeater.Insulation(named, p.Value(megohm), p.Value(volt)), string.Empty, Console.Out, Console.Error);
            return code == ExitCode.Good && !InsulationLimits.Passes(named, p.Value(megohm), p.Value(volt)) ? ExitCode.Found : code;
        });
        return command;
    }

    /// <summary>No default: one of NaN would be printed as such on the page of help.</summary>
    private static Option<double?> Number(string name, string description, bool required = false) =>
        new(name) { Description = description, Required = required };

    /// <summary>The number given; NaN when there is none, which the computations know as "not stated".</summary>
    private static double Value(this ParseResult parsed, Option<double?> option) => parsed.GetValue(option) ?? double.NaN;

    private static Option<string> Connection()
    {
        var option = new Option<string>("--connection") { Description = "star or delta.", Required = true };
        option.AcceptOnlyFromAmong("star", "delta");
        return option;
    }

    private static HeaterConnection Joined(string name) => name is "delta" ? HeaterConnection.Delta : HeaterConnection.Star;

    private static Gas Named(string name) => name switch
    {
        "air" => Gas.Air,
        "N2" => Gas.Nitrogen,
        "Ar" => Gas.Argon,
        "CO2" => Gas.CarbonDioxide,
        "O2" => Gas.Oxygen,
        _ => Gas.None,
    };
}
