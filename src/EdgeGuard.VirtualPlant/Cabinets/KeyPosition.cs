namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>Position of the key switch on the cabinet.</summary>
public enum KeyPosition : byte
{
    /// <summary>Permit token, relay, enable, setpoint and blower come from the wire.</summary>
    Supervised = 0,

    /// <summary>The cabinet runs its own programme; watchdog, relay and enable are bridged.</summary>
    Local = 1,
}
