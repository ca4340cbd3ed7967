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

    private static readonly (string Written, string Name)[] Synonyms =
        [("nitrogen", "N2"), ("argon", "Ar"), ("carbon dioxide", "CO2"), ("oxygen", "O2"), ("compressed air", "air")];

    /// <summary>The name here of a gas that is written in full; null when none.</summary>
    public static string? Meant(string written) =>
        Synonyms.FirstOrDefault(s => string.Equals(s.Written, written, StringComparison.OrdinalIgnoreCase)).Name;

    public static IEnumerable<string> All => Known.Select(g => g.Name);

    /// <summary>The gas of a name; None when unknown.</summary>
    public static Gas Find(string? name) => Known.FirstOrDefault(g => string.Equals(g.Name, name, StringComparison.Ordinal)).Gas;
}
