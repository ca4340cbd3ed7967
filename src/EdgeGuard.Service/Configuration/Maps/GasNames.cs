using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Service.Configuration.Maps;

/// <summary>Gases by their names in the site file.</summary>
internal static class GasNames
{
    private static readonly (string Name, Gas Gas)[] Known =
    [
        ("air", Gas.Air),
        ("N2", Gas.Nitrogen),
        ("Ar", Gas.Argon),
        ("CO2", Gas.CarbonDioxide),
        ("O2", Gas.Oxygen),
    ];

    public static IEnumerable<string> All => Known.Select(g => g.Name);

    /// <summary>The gas of a name; None when unknown.</summary>
    public static Gas Find(string? name) => Known.FirstOrDefault(g => string.Equals(g.Name, name, StringComparison.Ordinal)).Gas;
}
