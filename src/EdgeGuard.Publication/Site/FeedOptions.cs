using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.Publication.Site;

/// <summary>Where the guard's figures come from.</summary>
internal sealed record FeedOptions
{
    public required SiteTable Site { get; init; }

    /// <summary>Names of the links in the order of the site file.</summary>
    public required IReadOnlyList<string> LinkNames { get; init; }

    public required byte[] SiteDigest { get; init; }

    public required string RingPath { get; init; }

    public required string JournalHeadPath { get; init; }

    /// <summary>Without a scan for so long, and for five scans at least, values become last usable ones, ms.</summary>
    public required int LateMs { get; init; }

    /// <summary>Without a scan for so long there are no values any more, ms.</summary>
    public required int LostMs { get; init; }

    public required IServerLog Log { get; init; }
}
