namespace EdgeGuard.Core.Thermal;

/// <summary>
/// Temperature and pressure to which a volume flow is referred. "Standard" means different states in different
/// trades: a minimum flow set in standard instead of normal cubic metres is 5 to 9 % too low, so the state is
/// always named. Pressures and temperatures by definition; clause texts from memory.
/// </summary>
public sealed record ReferenceState
{
    private const double AtmospherePa = 101_325; // standard atmosphere, exact
    private const double PoundPerSquareInchPa = 6894.757293168; // exact from the pound and the inch, rounded

    private ReferenceState(string name, double kelvin, double pascal)
    {
        Name = name;
        Kelvin = kelvin;
        Pascal = pascal;
    }

    /// <summary>Normal state of DIN 1343: 0 °C, 101.325 kPa.</summary>
    public static ReferenceState Normal { get; } = new("normal, DIN 1343", 273.15, AtmospherePa);

    /// <summary>Reference conditions of ISO 13443 for natural gas: 15 °C, 101.325 kPa.</summary>
    public static ReferenceState Iso13443 { get; } = new("ISO 13443", 288.15, AtmospherePa);

    /// <summary>20 °C, 101.325 kPa: reference of many flow meters.</summary>
    public static ReferenceState TwentyC { get; } = new("20 °C, 101.325 kPa", 293.15, AtmospherePa);

    /// <summary>25 °C, 101.325 kPa.</summary>
    public static ReferenceState TwentyFiveC { get; } = new("25 °C, 101.325 kPa", 298.15, AtmospherePa);

    /// <summary>Standard reference atmosphere of ISO 8778 (compressed air, ANR): 20 °C, 100 kPa; dry gas here.</summary>
    public static ReferenceState Iso8778 { get; } = new("ISO 8778", 293.15, 100_000);

    /// <summary>Standard temperature and pressure of IUPAC since 1982: 0 °C, 100 kPa.</summary>
    public static ReferenceState Iupac { get; } = new("IUPAC STP", 273.15, 100_000);

    /// <summary>US standard cubic foot at 70 °F, 14.696 psi.</summary>
    public static ReferenceState UsStandard70F { get; } =
        new("70 °F, 14.696 psi", 273.15 + (38 / 1.8), 14.696 * PoundPerSquareInchPa);

    /// <summary>US standard cubic foot at 60 °F, 14.696 psi.</summary>
    public static ReferenceState UsStandard60F { get; } =
        new("60 °F, 14.696 psi", 273.15 + (28 / 1.8), 14.696 * PoundPerSquareInchPa);

    /// <summary>Name as used in messages.</summary>
    public string Name { get; }

    /// <summary>Temperature, K.</summary>
    public double Kelvin { get; }

    /// <summary>Absolute pressure, Pa.</summary>
    public double Pascal { get; }
}
