using EdgeGuard.Core.Signals;

namespace EdgeGuard.Records.Journal;

/// <summary>Units of the signals that can be forced, for sentences of the journal.</summary>
internal static class SignalUnits
{
    /// <summary>Sign of the unit; empty for a signal without one, or one this version does not know.</summary>
    public static string Of(SignalRole role) => role switch
    {
        SignalRole.GasFlow or SignalRole.GasFlow2 or SignalRole.GasFlow3 => "kg/h",
        SignalRole.CurrentL1 or SignalRole.CurrentL2 or SignalRole.CurrentL3 => "A",
        SignalRole.EarthLeakage => "mA",
        SignalRole.Insulation => "kΩ",
        SignalRole.ElementTemperature or SignalRole.ElementTemperature2 or SignalRole.ElementTemperature3
            or SignalRole.OutletTemperature or SignalRole.OutletTemperature2 or SignalRole.OutletTemperature3
            or SignalRole.InletTemperature => "°C",
        _ => string.Empty,
    };
}
