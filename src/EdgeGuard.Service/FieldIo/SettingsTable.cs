using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.FieldIo;

/// <summary>The settings of one device that are compared with what was commissioned, and where the verdict goes.</summary>
public sealed record SettingsTable
{
    /// <summary>Index of the one-word block in <see cref="Core.Signals.RawScan.Blocks"/>: 1 as commissioned, 0 different.</summary>
    public required int Block { get; init; }

    /// <summary>Name of the device, for messages.</summary>
    public required string Device { get; init; }

    /// <summary>Unit id of the device, 0 to 255.</summary>
    public required byte UnitId { get; init; }

    /// <summary>The settings, one or more.</summary>
    public required IReadOnlyList<SettingPoint> Points { get; init; }
}
