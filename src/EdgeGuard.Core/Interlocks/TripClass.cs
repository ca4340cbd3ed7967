namespace EdgeGuard.Core.Interlocks;

/// <summary>What a person found a trip to have been. A spurious trip is no safe event: the wire falls some 400 K in its first minute.</summary>
public enum TripClass : byte
{
    /// <summary>Not classified.</summary>
    Unknown = 0,

    /// <summary>The condition was there.</summary>
    Genuine = 1,

    /// <summary>The condition was not there: sensor, wiring, setting, maintenance.</summary>
    Spurious = 2,
}
