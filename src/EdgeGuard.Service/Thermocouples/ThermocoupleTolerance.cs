namespace EdgeGuard.Service.Thermocouples;

/// <summary>
/// Tolerance of new thermocouples, IEC 60584-1:2013 (from a public transcription): as delivered, no limit of drift in use.
/// For K and N the classes end below the temperatures of a hot heater: class 1 at 1000 °C, class 2 at 1200 °C.
/// </summary>
public static class ThermocoupleTolerance
{
    /// <summary>Tolerance, ± K; NaN where the class is not defined.</summary>
    /// <param name="type">The type.</param>
    /// <param name="toleranceClass">Class, 1 or 2.</param>
    /// <param name="celsius">Temperature, °C.</param>
    public static double Kelvin(ThermocoupleType type, int toleranceClass, double celsius) => (type, toleranceClass) switch
    {
        (ThermocoupleType.K or ThermocoupleType.N, 1) => Within(celsius, -40, 1000, Math.Max(1.5, 0.004 * Math.Abs(celsius))),
        (ThermocoupleType.K or ThermocoupleType.N, 2) => Within(celsius, -40, 1200, Math.Max(2.5, 0.0075 * Math.Abs(celsius))),
        (ThermocoupleType.S, 1) => Within(celsius, 0, 1600, celsius <= 1100 ? 1 : 1 + (0.003 * (celsius - 1100))),
        (ThermocoupleType.S, 2) => Within(celsius, 0, 1600, Math.Max(1.5, 0.0025 * Math.Abs(celsius))),
        _ => double.NaN,
    };

    private static double Within(double celsius, double min, double max, double kelvin) =>
        celsius >= min && celsius <= max ? kelvin : double.NaN;
}
