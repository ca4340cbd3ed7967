namespace EdgeGuard.Core.Thermal;

/// <summary>
/// Volume flow at a reference state ↔ mass flow, as ideal gas. The interlocks judge mass flow only; a volume flow is
/// converted once, where its reference state is known. Largest error of the ideal gas here: CO2 at 0 °C, 0.7 % too light.
/// </summary>
public static class GasFlow
{
    /// <summary>Molar gas constant, J/(mol K); exact since the SI of 2019 (CODATA 2018).</summary>
    public const double GasConstant = 8.31446261815324;

    /// <summary>Density at a reference state, kg/m³.</summary>
    /// <param name="gas">The gas.</param>
    /// <param name="state">The reference state.</param>
    public static double DensityKgPerM3(Gas gas, ReferenceState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        return state.Pascal * GasEnthalpy.GramPerMol(gas) / (1000 * GasConstant * state.Kelvin);
    }

    /// <summary>Mass flow of a volume flow, kg/h.</summary>
    /// <param name="gas">The gas.</param>
    /// <param name="m3PerHour">Volume flow referred to the state, m³/h.</param>
    /// <param name="state">The reference state of the volume.</param>
    public static double KgPerHourFromVolume(Gas gas, double m3PerHour, ReferenceState state) =>
        m3PerHour * DensityKgPerM3(gas, state);

    /// <summary>Volume flow of a mass flow, m³/h referred to the state.</summary>
    /// <param name="gas">The gas.</param>
    /// <param name="kgPerHour">Mass flow, kg/h.</param>
    /// <param name="state">The reference state of the volume.</param>
    public static double M3PerHourFromMass(Gas gas, double kgPerHour, ReferenceState state) =>
        kgPerHour / DensityKgPerM3(gas, state);
}
