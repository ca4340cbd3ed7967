namespace EdgeGuard.Core.Electrical;

/// <summary>The supply line that is missing at the heater.</summary>
public enum LostLine : byte
{
    /// <summary>All three are there.</summary>
    None = 0,

    /// <summary>Line 1.</summary>
    First = 1,

    /// <summary>Line 2.</summary>
    Second = 2,

    /// <summary>Line 3.</summary>
    Third = 3,
}
