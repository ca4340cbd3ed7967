using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Configuration;

/// <summary>A complete, checked site: the tables of the core and what the shell needs around them.</summary>
public sealed record SiteConfiguration
{
    /// <summary>Full path of the site folder.</summary>
    public required string Folder { get; init; }

    /// <summary>Full path of the data folder (journal, ring, tail, request socket).</summary>
    public required string DataFolder { get; init; }

    /// <summary>Full path of the ring's folder where it is not in the data folder; null: in the data folder.</summary>
    public string? RingFolder { get; init; }

    /// <summary>Time between two savings of counters and learnt figures, s.</summary>
    public int KeepSeconds { get; init; } = 60;

    /// <summary>Tables of the core; block indices refer to <see cref="Blocks"/>.</summary>
    public required SiteTable Table { get; init; }

    /// <summary>Connections, in file order.</summary>
    public required IReadOnlyList<LinkOptions> Links { get; init; }

    /// <summary>What polling and cyclic writes ask of each link, in the order of <see cref="Links"/>.</summary>
    public required IReadOnlyList<LinkLoad> Loads { get; init; }

    /// <summary>Poll requests, grouped by link, device and table.</summary>
    public required IReadOnlyList<PollBlock> Blocks { get; init; }

    /// <summary>Devices in file order.</summary>
    public required IReadOnlyList<DeviceOptions> Devices { get; init; }

    /// <summary>Verdicts on settings that stand for several devices of a unit.</summary>
    public required IReadOnlyList<CombinedVerdictTable> Verdicts { get; init; }

    /// <summary>Written points, index = unit × <see cref="CommandRoles.Count"/> + role; null where a unit has none.</summary>
    public required IReadOnlyList<CommandPoint?> Commands { get; init; }

    /// <summary>Facts of each unit beyond its table, in the order of the table.</summary>
    public required IReadOnlyList<UnitOptions> Units { get; init; }

    /// <summary>How the site is published.</summary>
    public required PublisherOptions Publication { get; init; }

    /// <summary>What is allowed but should be known, as plain sentences.</summary>
    public required IReadOnlyList<string> Notes { get; init; }

    /// <summary>What is allowed and can hardly be meant, each with its place and a way out; by file, line and column.</summary>
    public IReadOnlyList<SiteFault> Warnings { get; init; } = [];

    /// <summary>SHA-256 over <see cref="SettingsText"/>, 64 lower-case hexadecimal digits; stands in the journal.</summary>
    public required string SettingsDigest { get; init; }

    /// <summary>Canonical text of all effective settings, defaults included, one "key = value" a line.</summary>
    public required string SettingsText { get; init; }

    /// <summary>The written point of a unit for a role; null if the unit has none.</summary>
    public CommandPoint? Command(int unit, CommandRole role) => Commands[(unit * CommandRoles.Count) + (int)role];
}
