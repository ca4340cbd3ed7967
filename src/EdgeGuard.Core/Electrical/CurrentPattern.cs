namespace EdgeGuard.Core.Electrical;

/// <summary>What the three line currents of a firing heater look like.</summary>
public enum CurrentPattern : byte
{
    /// <summary>Currents that are not known, or that fit nothing here.</summary>
    Unclear = 0,

    /// <summary>All three alike.</summary>
    Even = 1,

    /// <summary>No current in any line.</summary>
    NoCurrent = 2,

    /// <summary>Line 1 dead, the others alike: lost supply line, blown fuse, or leg 1 of a star open.</summary>
    FirstLineDead = 3,

    /// <summary>Line 2 dead.</summary>
    SecondLineDead = 4,

    /// <summary>Line 3 dead.</summary>
    ThirdLineDead = 5,

    /// <summary>Leg 12 of a delta open: line 3 carries √3 times the current of the others.</summary>
    Leg12Open = 6,

    /// <summary>Leg 23 of a delta open.</summary>
    Leg23Open = 7,

    /// <summary>Leg 31 of a delta open.</summary>
    Leg31Open = 8,
}
