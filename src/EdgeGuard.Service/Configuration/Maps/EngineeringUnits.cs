using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Service.Configuration.Maps;

// A point states the unit the device uses; the core works in °C, kg/h, kW, per cent and ms. The conversion is linear
// and folded into scale and offset, so that the core decodes once. Volume flows become mass flow with the density of
// the unit's gas at the stated reference state, never at an assumed one.

/// <summary>Units a point may have and how they become those of the core: core value = value × factor + shift.</summary>
internal static class EngineeringUnits
{
    private static readonly (RoleDimension Dimension, string Name, double Factor, double Shift)[] All =
    [
        (RoleDimension.Digital, string.Empty, 1, 0),
        (RoleDimension.Count, string.Empty, 1, 0),
        (RoleDimension.Temperature, "degC", 1, 0),
        (RoleDimension.Temperature, "K", 1, -273.15), // ITS-90: t/°C = T/K − 273.15
        (RoleDimension.Temperature, "degF", 5.0 / 9.0, -160.0 / 9.0), // NIST SP 811, B.8: (t/°F − 32) / 1.8
        (RoleDimension.MassFlow, "kg/h", 1, 0),
        (RoleDimension.MassFlow, "kg/s", 3_600, 0),
        (RoleDimension.MassFlow, "Nm3/h", double.NaN, 0),
        (RoleDimension.MassFlow, "Sm3/h", double.NaN, 0),
        (RoleDimension.Power, "kW", 1, 0),
        (RoleDimension.Power, "W", 0.001, 0),
        (RoleDimension.Percent, "%", 1, 0),
        (RoleDimension.Current, "A", 1, 0),
        (RoleDimension.Current, "mA", 0.001, 0),
        (RoleDimension.LeakageCurrent, "mA", 1, 0),
        (RoleDimension.LeakageCurrent, "A", 1_000, 0),
        (RoleDimension.Resistance, "kOhm", 1, 0),
        (RoleDimension.Resistance, "MOhm", 1_000, 0),
        (RoleDimension.Duration, "ms", 1, 0),
        (RoleDimension.Duration, "s", 1_000, 0),
    ];

    /// <summary>How people write these units elsewhere. No volume flow: its reference state is never guessed.</summary>
    private static readonly (string Written, string Name)[] Synonyms =
    [
        ("C", "degC"), ("°C", "degC"), ("celsius", "degC"), ("deg C", "degC"), ("kelvin", "K"), ("F", "degF"), ("°F", "degF"), ("fahrenheit", "degF"),
        ("kilowatt", "kW"), ("watt", "W"), ("percent", "%"), ("pct", "%"), ("ampere", "A"), ("amps", "A"), ("kΩ", "kOhm"), ("MΩ", "MOhm"), ("sec", "s"), ("msec", "ms"),
    ];

    /// <summary>The name here of a unit written otherwise, where it is one of <paramref name="names"/>; null when none.</summary>
    public static string? Meant(string written, string[] names) => Synonyms
        .Where(s => string.Equals(s.Written, written, StringComparison.OrdinalIgnoreCase) && names.Contains(s.Name, StringComparer.Ordinal))
        .Select(static s => s.Name)
        .FirstOrDefault();

    public static string[] NamesFor(RoleDimension dimension) => [.. All.Where(u => u.Dimension == dimension).Select(u => u.Name)];

    /// <summary>Factor and shift of a unit for a gas; NaN for a unit that does not fit the dimension.</summary>
    public static (double Factor, double Shift) ToCore(RoleDimension dimension, string unit, Gas gas)
    {
        switch (unit)
        {
            case "Nm3/h" when dimension == RoleDimension.MassFlow:
                return (GasFlow.DensityKgPerM3(gas, ReferenceState.Normal), 0);
            case "Sm3/h" when dimension == RoleDimension.MassFlow:
                return (GasFlow.DensityKgPerM3(gas, ReferenceState.Iso13443), 0);
            default:
                foreach (var known in All)
                {
                    if (known.Dimension == dimension && string.Equals(known.Name, unit, StringComparison.Ordinal))
                    {
                        return (known.Factor, known.Shift);
                    }
                }

                return (double.NaN, double.NaN);
        }
    }
}
