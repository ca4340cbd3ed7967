namespace EdgeGuard.VirtualPlant.Profiles;

/// <summary>Process gas of a heater.</summary>
public enum GasKind : byte
{
    /// <summary>Not stated.</summary>
    None = 0,

    /// <summary>Nitrogen.</summary>
    Nitrogen = 1,

    /// <summary>Dry air.</summary>
    Air = 2,
}
