using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Publication.Site;

/// <summary>Units and texts of signals and commands, for people.</summary>
internal static class SignalFacts
{
    /// <summary>Sign of the unit; empty for a state of two values.</summary>
    public static string Unit(SignalRole role) => role switch
    {
        SignalRole.ElementTemperature or SignalRole.OutletTemperature or SignalRole.InletTemperature or SignalRole.WorkingSetpoint or SignalRole.RemoteSetpoint => "°C",
        SignalRole.GasFlow => "kg/h",
        SignalRole.Power => "kW",
        SignalRole.Output or SignalRole.BlowerDemand or SignalRole.ManualOutput or SignalRole.OutputLimit => "%",
        SignalRole.WatchdogTime => "ms",
        SignalRole.Heartbeat => "1",
        _ => "",
    };

    /// <summary>What 1 and 0 mean; null for a number.</summary>
    public static (string True, string False)? States(SignalRole role) => role switch
    {
        SignalRole.Enable => ("enabled", "disabled"),
        SignalRole.Relay => ("energised", "de-energised"),
        SignalRole.ManualMode => ("manual", "automatic"),
        SignalRole.KeySupervised => ("supervised", "local"),
        SignalRole.ChainHealthy => ("closed", "open"),
        SignalRole.ContactorClosed => ("closed", "open"),
        SignalRole.WatchdogAlive => ("alive", "dropped"),
        _ => null,
    };

    public static string Unit(CommandRole role) => role switch
    {
        CommandRole.Setpoint => "°C",
        CommandRole.ManualOutput or CommandRole.BlowerDemand => "%",
        _ => "1",
    };

    public static string Text(SignalTable signal) =>
        $"poll block {signal.Block}, word {signal.WordOffset}, {signal.Type}{(signal.Type == WordType.Bit ? $" {signal.Bit}" : "")}; stale after {signal.StaleMs} ms, dropped after {signal.HoldMs} ms";
}
