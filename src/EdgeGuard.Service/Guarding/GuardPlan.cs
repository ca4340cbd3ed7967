using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Guarding;

/// <summary>Everything the guard process needs to know, taken from a loaded site.</summary>
public sealed record GuardPlan
{
    /// <summary>Tables of the core.</summary>
    public required SiteTable Site { get; init; }

    /// <summary>Folder of journal, ring, recording and request socket.</summary>
    public required string DataFolder { get; init; }

    /// <summary>Folder of the ring where it is not in the data folder; null: in the data folder.</summary>
    public string? RingFolder { get; init; }

    /// <summary>SHA-256 of the effective settings, 64 hexadecimal digits.</summary>
    public required string SettingsDigest { get; init; }

    /// <summary>Time between two savings of counters and learnt figures, ms.</summary>
    public int KeepMs { get; init; } = 60_000;

    /// <summary>What the learnt figures of each unit rest on, in the order of the site.</summary>
    public IReadOnlyList<LearntBasis> Bases { get; init; } = [];

    /// <summary>Links in file order.</summary>
    public required IReadOnlyList<LinkPlan> Links { get; init; }

    /// <summary>Verdicts on settings that stand for several devices of a unit.</summary>
    public IReadOnlyList<CombinedVerdictTable> Verdicts { get; init; } = [];

    /// <summary>Sentences about facts that weaken protection; journalled at start.</summary>
    public IReadOnlyList<string> Statements { get; init; } = [];
}
