using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Service.Configuration;

/// <summary>What a caller may decide about loading a site.</summary>
public sealed record SiteLoadOptions
{
    /// <summary>The date against which expiries are judged; null means today in UTC.</summary>
    public DateOnly? Today { get; init; }

    /// <summary>Mode for all units instead of the one in the file; null keeps the file's. All rules apply to it.</summary>
    public UnitMode? Mode { get; init; }

    /// <summary>Leaves snapshots of settings unread: for taking a new one.</summary>
    public bool WithoutSettings { get; init; }
}
