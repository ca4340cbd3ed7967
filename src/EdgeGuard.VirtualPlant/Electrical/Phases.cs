namespace EdgeGuard.VirtualPlant.Electrical;

/// <summary>A set of the three phases, or of the three legs of a load or a controller.</summary>
[Flags]
public enum Phases : byte
{
    /// <summary>No phase.</summary>
    None = 0,

    /// <summary>First phase.</summary>
    L1 = 1,

    /// <summary>Second phase.</summary>
    L2 = 2,

    /// <summary>Third phase.</summary>
    L3 = 4,

    /// <summary>All three.</summary>
    All = L1 | L2 | L3,
}
