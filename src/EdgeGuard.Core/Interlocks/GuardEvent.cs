namespace EdgeGuard.Core.Interlocks;

/// <summary>One event decided by the core, in fixed size; the shell turns it into a journal line.</summary>
public struct GuardEvent
{
    /// <summary>Sequence number of the event in this run, from 1, rising by 1; the durable watermark counts these.</summary>
    public long Sequence;

    /// <summary>Scan in which it was decided.</summary>
    public long Scan;

    /// <summary>UTC of that scan, ms since 1970-01-01.</summary>
    public long UtcUnixMs;

    /// <summary>Index of the unit, −1 for the site.</summary>
    public int Unit;

    /// <summary>What happened.</summary>
    public EventId Id;

    /// <summary>The function concerned, or None.</summary>
    public FunctionId Function;

    /// <summary>Reason of a refusal.</summary>
    public RefusalReason Reason;

    /// <summary>Which of several conditions the function found.</summary>
    public Finding Finding;

    /// <summary>Value as the event id says; NaN when the signal behind it was not good.</summary>
    public double Value;

    /// <summary>Limit as the event id says.</summary>
    public double Limit;

    /// <summary>Detail as the event id says.</summary>
    public long Detail;
}
