namespace EdgeGuard.Service.Configuration;

/// <summary>One device of a site as far as its settings are concerned.</summary>
public sealed record DeviceOptions
{
    /// <summary>Name of the device.</summary>
    public required string Name { get; init; }

    /// <summary>Index in <see cref="SiteConfiguration.Links"/>.</summary>
    public required int LinkIndex { get; init; }

    /// <summary>Modbus unit id.</summary>
    public required byte UnitId { get; init; }

    /// <summary>Points with role "setting" of its map.</summary>
    public required IReadOnlyList<SettingPoint> Settings { get; init; }

    /// <summary>Index of the one-word block with the verdict; −1 when nothing is compared.</summary>
    public required int SettingsBlock { get; init; }
}
