namespace EdgeGuard.Records.Journal;

/// <summary>
/// One entry as it is handed to the journal; the journal itself adds line number, run id and hash. Whatever is null
/// or negative where so documented is left out of the line. There is no number with a fraction in it: measured values
/// arrive as text from <see cref="Quantity"/>, so that the bytes do not depend on how a platform prints a float.
/// </summary>
public sealed record JournalEntry
{
    /// <summary>Identity of the event; its stable text comes from <see cref="EventRegistry"/>.</summary>
    public required int Id { get; init; }

    /// <summary>UTC of the event, ms since 1970-01-01.</summary>
    public required long UtcUnixMs { get; init; }

    /// <summary>Scan in which it was decided, −1 when it belongs to none.</summary>
    public long Scan { get; init; } = -1;

    /// <summary>Sequence number of a decision of the core, from 1; 0 for entries of the shell.</summary>
    public long Sequence { get; init; }

    /// <summary>Name of the unit; null for the site.</summary>
    public string? Unit { get; init; }

    /// <summary>Code of the protective function, e.g. "FLOW".</summary>
    public string? Function { get; init; }

    /// <summary>Value with unit, e.g. "69.312 kg/h".</summary>
    public string? Value { get; init; }

    /// <summary>Limit with unit.</summary>
    public string? Limit { get; init; }

    /// <summary>Since when the condition has been present, in words that hold a time or a scan.</summary>
    public string? Since { get; init; }

    /// <summary>Further number as the event id says; null when there is none.</summary>
    public long? Detail { get; init; }

    /// <summary>Person who asked, as the system knows the person.</summary>
    public string? Person { get; init; }

    /// <summary>Reason given or found, in words.</summary>
    public string? Reason { get; init; }

    /// <summary>Plain sentence for the reader.</summary>
    public string? Text { get; init; }
}
