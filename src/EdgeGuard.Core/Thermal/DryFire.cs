namespace EdgeGuard.Core.Thermal;

/// <summary>
/// How fast an element heats when no gas takes the power away: the figure that decides how much time an interlock
/// has. Everything goes into the wire, nothing is lost, so the figure is on the safe side. Inputs that are not
/// above 0 give positive infinity (no time at all).
/// </summary>
public static class DryFire
{
    /// <summary>Rise from power and heat capacity, dT/dt = P / (m c), K/s.</summary>
    /// <param name="powerKw">Power, kW; take it at the highest supply voltage (U + 10 % is P × 1.21).</param>
    /// <param name="massKg">Mass of the heated wire, kg.</param>
    /// <param name="kJPerKgK">Specific heat of the wire, kJ/(kg K).</param>
    public static double RiseKPerSecond(double powerKw, double massKg, double kJPerKgK) =>
        SafeQuotient(powerKw, massKg * kJPerKgK);

    /// <summary>Rise of a round wire from its surface load, dT/dt = 4 q / (ρ c d), K/s, whatever its rating.</summary>
    /// <param name="wattPerCm2">Surface load, W/cm².</param>
    /// <param name="kgPerM3">Density of the wire, kg/m³.</param>
    /// <param name="kJPerKgK">Specific heat of the wire, kJ/(kg K).</param>
    /// <param name="diameterMm">Diameter of the wire, mm.</param>
    public static double RiseKPerSecondFromSurfaceLoad(
        double wattPerCm2, double kgPerM3, double kJPerKgK, double diameterMm)
    {
        double wattPerM2 = wattPerCm2 * 10_000;
        double joulePerM2K = kgPerM3 * kJPerKgK * 1000 * (diameterMm / 1000);
        return SafeQuotient(4 * wattPerM2, joulePerM2K);
    }

    /// <summary>Time from one temperature to another at a constant rise, s; 0 when it is there already.</summary>
    /// <param name="fromC">Temperature at which the function trips, °C.</param>
    /// <param name="toC">Temperature at which the element is destroyed, °C.</param>
    /// <param name="riseKPerSecond">Rise, K/s, above 0.</param>
    public static double SecondsBetween(double fromC, double toC, double riseKPerSecond)
    {
        double seconds = (toC - fromC) / riseKPerSecond;
        return riseKPerSecond > 0 && seconds > 0 ? seconds : 0;
    }

    private static double SafeQuotient(double above, double below) =>
        above >= 0 && below > 0 ? above / below : double.PositiveInfinity;
}
