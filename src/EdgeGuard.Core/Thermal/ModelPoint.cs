namespace EdgeGuard.Core.Thermal;

/// <summary>One steady state of a healthy heater, as it was read at commissioning.</summary>
/// <param name="FlowKgPerHour">Mass flow, kg/h, above 0.</param>
/// <param name="PowerKw">Electrical power, kW, above 0.</param>
/// <param name="DifferenceK">Element less outlet gas, K, 0 or more.</param>
public readonly record struct ModelPoint(double FlowKgPerHour, double PowerKw, double DifferenceK)
{
    private const double SecondsPerHour = 3600;

    /// <summary>Power ÷ flow, kJ a kilogram of gas.</summary>
    public double KjPerKg => PowerKw * SecondsPerHour / FlowKgPerHour;

    /// <summary>Difference for each kJ/kg, K kg/kJ.</summary>
    public double KelvinPerKjPerKg => DifferenceK / KjPerKg;
}
