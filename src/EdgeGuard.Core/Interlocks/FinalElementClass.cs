namespace EdgeGuard.Core.Interlocks;

/// <summary>By what means the unit can remove power.</summary>
public enum FinalElementClass : byte
{
    /// <summary>Not stated: enforcing is refused.</summary>
    None = 0,

    /// <summary>A: trip relay with watchdog.</summary>
    RelayWithWatchdog = 1,

    /// <summary>B: enable bit with watchdog.</summary>
    EnableWithWatchdog = 2,

    /// <summary>C: setpoint or output only; cannot remove power, enforcing needs a named hardwired device.</summary>
    SetpointOnly = 3,
}
