namespace EdgeGuard.Core.Electrical;

/// <summary>
/// Temperature factors of generic heating alloys, as tabulated for the grades of GB/T 1234 (from a public page that
/// reproduces the grade table; the standard itself was not read). A data sheet of the wire that is fitted goes before.
/// </summary>
public static class HeatingAlloys
{
    private static readonly double[] To1200 = [20, 100, 200, 300, 400, 500, 600, 700, 800, 900, 1000, 1100, 1200];
    private static readonly double[] To1100 = [20, 100, 200, 300, 400, 500, 600, 700, 800, 900, 1000, 1100];

    /// <summary>Iron, 25 % chromium, 5 % aluminium (0Cr25Al5).</summary>
    public static TemperatureFactorTable FeCrAl25Al5 { get; } = new(
        "FeCrAl 25-5", To1200, [1, 1.002, 1.005, 1.008, 1.013, 1.021, 1.030, 1.038, 1.040, 1.042, 1.044, 1.046, 1.047]);

    /// <summary>Iron, 21 % chromium, 6 % aluminium (0Cr21Al6).</summary>
    public static TemperatureFactorTable FeCrAl21Al6 { get; } = new(
        "FeCrAl 21-6", To1200, [1, 1.000, 1.002, 1.006, 1.011, 1.020, 1.037, 1.043, 1.046, 1.049, 1.052, 1.055, 1.058]);

    /// <summary>The same with niobium (0Cr21Al6Nb): falls with temperature.</summary>
    public static TemperatureFactorTable FeCrAl21Al6Nb { get; } = new(
        "FeCrAl 21-6-Nb", To1200, [1, 0.997, 0.996, 0.994, 0.991, 0.990, 0.990, 0.990, 0.990, 0.990, 0.990, 0.990, 0.990]);

    /// <summary>Iron, 27 % chromium, 7 % aluminium, molybdenum (0Cr27Al7Mo2): falls with temperature.</summary>
    public static TemperatureFactorTable FeCrAl27Al7Mo2 { get; } = new(
        "FeCrAl 27-7-Mo2", To1200, [1, 0.992, 0.986, 0.981, 0.978, 0.976, 0.974, 0.972, 0.970, 0.969, 0.968, 0.968, 0.967]);

    /// <summary>Nickel, 20 % chromium (Cr20Ni80): not monotonic.</summary>
    public static TemperatureFactorTable NiCr80 { get; } = new(
        "NiCr 80-20", To1200, [1, 1.006, 1.012, 1.018, 1.025, 1.026, 1.018, 1.010, 1.008, 1.010, 1.014, 1.021, 1.025]);

    /// <summary>Nickel, 15 % chromium, iron (Cr15Ni60).</summary>
    public static TemperatureFactorTable NiCr60 { get; } = new(
        "NiCr 60-15", To1100, [1, 1.011, 1.024, 1.038, 1.052, 1.064, 1.069, 1.073, 1.078, 1.088, 1.095, 1.109]);

    /// <summary>All grades here.</summary>
    public static IReadOnlyList<TemperatureFactorTable> All { get; } =
        [FeCrAl25Al5, FeCrAl21Al6, FeCrAl21Al6Nb, FeCrAl27Al7Mo2, NiCr80, NiCr60];

    /// <summary>The grade of a name; null when there is none.</summary>
    /// <param name="name">Name as in <see cref="TemperatureFactorTable.Name"/>.</param>
    public static TemperatureFactorTable? Find(string name)
    {
        foreach (TemperatureFactorTable grade in All)
        {
            if (string.Equals(grade.Name, name, StringComparison.Ordinal))
            {
                return grade;
            }
        }

        return null;
    }
}
