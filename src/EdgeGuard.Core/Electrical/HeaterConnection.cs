namespace EdgeGuard.Core.Electrical;

/// <summary>How the three legs of a heater are connected. Configured, never guessed: the terminals do not show it.</summary>
public enum HeaterConnection : byte
{
    /// <summary>Not configured: nothing can be computed.</summary>
    None = 0,

    /// <summary>Star, the star point not brought out: the line currents add up to zero.</summary>
    Star = 1,

    /// <summary>Delta: leg 12 lies between the lines 1 and 2, and so on.</summary>
    Delta = 2,
}
