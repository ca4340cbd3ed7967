namespace EdgeGuard.Core.Signals;

/// <summary>Facts about the set of <see cref="SignalRole"/> values.</summary>
public static class SignalRoles
{
    /// <summary>Number of roles; arrays indexed by role have this length.</summary>
    public const int Count = (int)SignalRole.MeterSettings + 1;

    /// <summary>
    /// Signals a site may declare forcible: what a sensor measures in gas, metal and supply lines. Never: the read-backs of
    /// everything that is commanded (token, relay, enable, manual, setpoint, output limit, blower), since a removal is
    /// repeated until they agree; key, chain, contactor and watchdog, since they say who commands and whether the hardwired
    /// protection stands; power, since it alone proves that power is off and adds up on the shared supply; output and
    /// working setpoint, since the start position and the demanded power rest on them; the reset button, since that would
    /// be a request without a name; the settings of the devices, since they are what was commissioned or not.
    /// </summary>
    /// <param name="role">The signal.</param>
    public static bool MayBeForced(SignalRole role) => role
        is SignalRole.ElementTemperature or SignalRole.ElementTemperature2 or SignalRole.ElementTemperature3
            or SignalRole.OutletTemperature or SignalRole.OutletTemperature2 or SignalRole.OutletTemperature3
            or SignalRole.InletTemperature or SignalRole.GasFlow or SignalRole.GasFlow2 or SignalRole.GasFlow3
            or SignalRole.CurrentL1 or SignalRole.CurrentL2 or SignalRole.CurrentL3 or SignalRole.EarthLeakage or SignalRole.Insulation;

    /// <summary>Role of the n-th redundant sensor of a role: 1 is the role itself, 2 and 3 its further sensors.</summary>
    /// <param name="role">Element temperature, outlet temperature or gas flow.</param>
    /// <param name="sensor">1 to 3.</param>
    /// <exception cref="ArgumentOutOfRangeException">No such sensor.</exception>
    public static SignalRole Sensor(SignalRole role, int sensor) => (role, sensor) switch
    {
        (_, 1) => role,
        (SignalRole.ElementTemperature, 2) => SignalRole.ElementTemperature2,
        (SignalRole.ElementTemperature, 3) => SignalRole.ElementTemperature3,
        (SignalRole.OutletTemperature, 2) => SignalRole.OutletTemperature2,
        (SignalRole.OutletTemperature, 3) => SignalRole.OutletTemperature3,
        (SignalRole.GasFlow, 2) => SignalRole.GasFlow2,
        (SignalRole.GasFlow, 3) => SignalRole.GasFlow3,
        _ => throw new ArgumentOutOfRangeException(nameof(sensor)),
    };
}
