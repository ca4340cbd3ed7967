namespace EdgeGuard.Core.Interlocks;

/// <summary>Reaction of a function, in the sense of the stop categories of IEC 60204-1 (from memory).</summary>
public enum Reaction : byte
{
    /// <summary>Immediate removal of power (category 0).</summary>
    Removal = 0,

    /// <summary>Controlled shutdown (category 1): powered cool-down at the cap with protection active, then removal.</summary>
    Controlled = 1,

    /// <summary>Alarm only.</summary>
    Alarm = 2,
}
