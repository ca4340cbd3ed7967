namespace EdgeGuard.VirtualPlant.Electrical;

/// <summary>How the three legs of an element are connected.</summary>
public enum LoadConnection : byte
{
    /// <summary>Star, star point not connected to the neutral.</summary>
    Star = 0,

    /// <summary>Delta.</summary>
    Delta = 1,
}
