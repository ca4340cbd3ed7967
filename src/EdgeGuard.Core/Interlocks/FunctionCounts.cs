namespace EdgeGuard.Core.Interlocks;

/// <summary>Counters of one function of one unit, over restarts where they were kept.</summary>
public struct FunctionCounts
{
    /// <summary>Demands for removal or controlled shutdown, consequences of a trip included, bypassed ones not.</summary>
    public int Demands;

    /// <summary>Trips with this function as first-out.</summary>
    public int Trips;

    /// <summary>Demands while the function was bypassed.</summary>
    public int BypassedDemands;

    /// <summary>Demands of the real values that a forced one kept from taking effect.</summary>
    public int ForcedDemands;

    /// <summary>Trips of this function that a person classified as spurious.</summary>
    public int SpuriousTrips;
}
