namespace EdgeGuard.Core.Signals;

/// <summary>Facts about the set of <see cref="SignalRole"/> values.</summary>
public static class SignalRoles
{
    /// <summary>Number of roles; arrays indexed by role have this length.</summary>
    public const int Count = (int)SignalRole.MeterSettings + 1;

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
