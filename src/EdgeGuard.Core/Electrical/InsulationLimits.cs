namespace EdgeGuard.Core.Electrical;

/// <summary>
/// Insulation resistance and leakage limits of cold checks. The figures are those of the standards named at
/// <see cref="InsulationRule"/>, from memory and from public summaries: have them confirmed against bought copies, and
/// let local codes win. Moist ceramic reads 0.05 to 1 MΩ after storage and recovers on gentle drying, so a reading is kept
/// with temperature and drying time.
/// </summary>
public static class InsulationLimits
{
    /// <summary>Leakage of heating appliances of class I per rated power, mA/kW (IEC 60335-1 §13.2, from memory).</summary>
    public const double LeakageMilliamperePerKw = 0.75;

    /// <summary>Most leakage of such an appliance, mA (the same clause, from memory).</summary>
    public const double MostLeakageMilliampere = 5;

    /// <summary>Test voltage, V DC; not a number without a rule.</summary>
    /// <param name="rule">The rule.</param>
    public static double TestVolt(InsulationRule rule) => rule switch
    {
        InsulationRule.None => double.NaN,
        InsulationRule.InstallationExtraLow or InsulationRule.EquipmentClassIII => 250,
        InsulationRule.InstallationHigh => 1000,
        >= InsulationRule.Machine and <= InsulationRule.EquipmentClassII => 500,
        _ => double.NaN,
    };

    /// <summary>Least resistance, MΩ; positive infinity without a rule.</summary>
    /// <param name="rule">The rule.</param>
    public static double LeastMegohm(InsulationRule rule) => rule switch
    {
        InsulationRule.Machine or InsulationRule.InstallationLow => 1,
        InsulationRule.InstallationHigh or InsulationRule.EquipmentClassI => 1,
        InsulationRule.MachineSlipRings => 0.05,
        InsulationRule.InstallationExtraLow => 0.5,
        InsulationRule.EquipmentClassIHeating => 0.3,
        InsulationRule.EquipmentClassII => 2,
        InsulationRule.EquipmentClassIII => 0.25,
        _ => double.PositiveInfinity,
    };

    /// <summary>True when a reading taken at enough voltage reaches the limit; a reading that is no number does not.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="megohm">Reading, MΩ.</param>
    /// <param name="testVolt">Voltage of the reading, V DC.</param>
    public static bool Passes(InsulationRule rule, double megohm, double testVolt) =>
        testVolt >= TestVolt(rule) && megohm >= LeastMegohm(rule);

    /// <summary>Most leakage current of a heater of class I, mA; 0 for a rating that is no number.</summary>
    /// <param name="ratedKw">Rated power, kW.</param>
    public static double LeakageLimitMilliampere(double ratedKw) =>
        ratedKw > 0 ? Math.Min(LeakageMilliamperePerKw * ratedKw, MostLeakageMilliampere) : 0;
}
