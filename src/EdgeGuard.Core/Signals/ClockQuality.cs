namespace EdgeGuard.Core.Signals;

/// <summary>How far UTC stamps can be trusted. It never influences a delay: those count nominal scan deadlines.</summary>
public enum ClockQuality : byte
{
    /// <summary>Unknown.</summary>
    Unknown = 0,

    /// <summary>The clock was stepped since the previous scan.</summary>
    Stepped = 1,

    /// <summary>The clock ran evenly since the previous scan.</summary>
    Even = 2,
}
