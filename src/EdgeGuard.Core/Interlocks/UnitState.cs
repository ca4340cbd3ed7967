namespace EdgeGuard.Core.Interlocks;

/// <summary>State of a unit. Only Heating, Holding and LedCooldown may carry a permit.</summary>
public enum UnitState : byte
{
    /// <summary>A latched trip: no power until a reset and a start.</summary>
    Tripped = 0,

    /// <summary>Reset, no cause present, waiting for a start.</summary>
    Ready = 1,

    /// <summary>Blower runs, flow is being proved; no power.</summary>
    PreFlow = 2,

    /// <summary>Setpoint is led up at the configured rate.</summary>
    Heating = 3,

    /// <summary>Setpoint has reached its target.</summary>
    Holding = 4,

    /// <summary>Setpoint is led down at the cap with power on.</summary>
    LedCooldown = 5,

    /// <summary>Power removed, blower runs until the element is below its limit.</summary>
    AfterCooling = 6,

    /// <summary>Cool, blower stopped, no trip; a start is possible.</summary>
    Standby = 7,
}
