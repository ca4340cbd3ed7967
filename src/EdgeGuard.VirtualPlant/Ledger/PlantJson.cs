using System.Text.Json.Serialization;
using EdgeGuard.VirtualPlant.Cabinets;

namespace EdgeGuard.VirtualPlant.Ledger;

/// <summary>Source-generated JSON of what the plant prints: camel case, one line, enums by name.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    UseStringEnumConverter = true,
    WriteIndented = false)]
[JsonSerializable(typeof(LedgerReport))]
[JsonSerializable(typeof(UnitLedgerReport))]
[JsonSerializable(typeof(SiteLedgerReport))]
[JsonSerializable(typeof(PlantTruth))]
[JsonSerializable(typeof(CabinetTruth))]
public sealed partial class PlantJson : JsonSerializerContext;
