using System.Globalization;
using EdgeGuard.Service.Thermocouples;

namespace EdgeGuard.Commands;

/// <summary>Thermocouple figures in lines for a reader; none outside the reference function.</summary>
internal static class CalcSensor
{
    public static IReadOnlyList<string> Lines(ThermocoupleType type, double celsius, double terminalC)
    {
        double millivolt = ThermocoupleReference.Millivolt(type, celsius) - ThermocoupleReference.Millivolt(type, terminalC);
        if (double.IsNaN(millivolt))
        {
            return [];
        }

        var lines = new List<string>
        {
            T($"type {type} at {celsius:0.#} °C, terminals at {terminalC:0.#} °C: {millivolt:0.000} mV, {ThermocoupleReference.MicrovoltPerK(type, celsius):0.00} µV/K"),
            $"tolerance as delivered: class 1 {Tolerance(type, 1, celsius)}, class 2 {Tolerance(type, 2, celsius)}",
        };
        foreach (ThermocoupleType set in new[] { ThermocoupleType.K, ThermocoupleType.N, ThermocoupleType.S }.Where(t => t != type))
        {
            double reading = SensorMismatch.ReadingC(type, set, celsius, terminalC);
            lines.Add(double.IsNaN(reading)
                ? $"an input set to type {set} would read out of its range"
                : T($"an input set to type {set} would read {reading:0.0} °C ({(reading < celsius ? "low: dangerous" : "high")})"));
        }

        return lines;
    }

    private static string Tolerance(ThermocoupleType type, int toleranceClass, double celsius)
    {
        double kelvin = ThermocoupleTolerance.Kelvin(type, toleranceClass, celsius);
        return double.IsNaN(kelvin) ? "not defined here" : T($"± {kelvin:0.##} K");
    }

    private static string T(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
