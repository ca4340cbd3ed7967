namespace EdgeGuard.Service.Requests;

/// <summary>Answer to a status request: the site at the latest copied scan.</summary>
public sealed record SiteStatus
{
    /// <summary>Name of the site.</summary>
    public required string Site { get; init; }

    /// <summary>Version of the program.</summary>
    public required string Version { get; init; }

    /// <summary>Process id of the guard.</summary>
    public required int ProcessId { get; init; }

    /// <summary>Number of the scan; −1 before the first.</summary>
    public required long Scan { get; init; }

    /// <summary>UTC of the scan, ms since 1970-01-01.</summary>
    public required long UtcUnixMs { get; init; }

    /// <summary>Scan period, ms.</summary>
    public required int ScanMs { get; init; }

    /// <summary>Sum of measured power, kW; absent when unknown.</summary>
    public double? SitePowerKw { get; init; }

    /// <summary>Limit of the shared supply, kW; absent when none is configured.</summary>
    public double? SupplyLimitKw { get; init; }

    /// <summary>Time until every unit on its way has reached its setpoint, s, at the earliest; absent when none is, or one would never arrive.</summary>
    public double? SecondsUntilAllHot { get; init; }

    /// <summary>Journal: health and watermark.</summary>
    public required JournalStatus Journal { get; init; }

    /// <summary>How well deadlines are kept.</summary>
    public required LoopStatus Loop { get; init; }

    /// <summary>Links in file order.</summary>
    public required IReadOnlyList<LinkStatus> Links { get; init; }

    /// <summary>How much the people on watch were asked to take since start.</summary>
    public AlarmStatus? Alarms { get; init; }

    /// <summary>Units in the order of the site.</summary>
    public required IReadOnlyList<UnitStatus> Units { get; init; }
}
