namespace EdgeGuard.Core.Interlocks;

/// <summary>Whether the unit's decisions are written.</summary>
public enum UnitMode : byte
{
    /// <summary>Decides and records, writes nothing.</summary>
    Observe = 0,

    /// <summary>Decides, records and writes.</summary>
    Enforce = 1,
}
