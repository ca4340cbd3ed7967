using System.Text.Json;
using EdgeGuard.VirtualPlant.Ledger;

namespace EdgeGuard.VirtualPlant.Process;

/// <summary>Writes the ledger as JSON lines: one per unit, the shared supply last.</summary>
public static class LedgerFile
{
    /// <summary>The lines.</summary>
    public static string Format(LedgerReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        IEnumerable<string> units = report.Units.Select(u => JsonSerializer.Serialize(u, PlantJson.Default.UnitLedgerReport));
        string site = JsonSerializer.Serialize(report.Site, PlantJson.Default.SiteLedgerReport);
        return string.Join('\n', units.Append(site)) + "\n";
    }

    /// <summary>Replaces the file as a whole, so that a reader never sees half a ledger.</summary>
    public static void Write(string path, LedgerReport report)
    {
        string part = path + ".part";
        File.WriteAllText(part, Format(report));
        File.Move(part, path, overwrite: true);
    }
}
