using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Publication.Site;

/// <summary>Units and texts of signals and commands, for people.</summary>
internal static class SignalFacts
{
    /// <summary>Sign of the unit; empty for a state of two values.</summary>
    public static string Unit(SignalRole role) => role switch
    {
        SignalRole.ElementTemperature or SignalRole.ElementTemperature2 or SignalRole.ElementTemperature3
            or SignalRole.OutletTemperature or SignalRole.OutletTemperature2 or SignalRole.OutletTemperature3
            or SignalRole.InletTemperature or SignalRole.WorkingSetpoint or SignalRole.RemoteSetpoint => "°C",
        SignalRole.GasFlow or SignalRole.GasFlow2 or SignalRole.GasFlow3 => "kg/h",
        SignalRole.Power => "kW",
        SignalRole.CurrentL1 or SignalRole.CurrentL2 or SignalRole.CurrentL3 => "A",
        SignalRole.EarthLeakage => "mA",
        SignalRole.Insulation => "kΩ",
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
        SignalRole.ResetInput => ("pressed", "released"),
        SignalRole.ControllerSettings or SignalRole.MeterSettings => ("as commissioned", "different"),
        _ => null,
    };

    public static string Unit(CommandRole role) => role switch
    {
        CommandRole.Setpoint => "°C",
        CommandRole.ManualOutput or CommandRole.BlowerDemand or CommandRole.OutputLimit => "%",
        _ => "1",
    };

    /// <summary>What it is, in a sentence for people.</summary>
    public static string Description(SignalRole role) => role switch
    {
        SignalRole.ElementTemperature => "Temperature of the heating element",
        SignalRole.OutletTemperature => "Temperature of the gas at the outlet",
        SignalRole.InletTemperature => "Temperature of the gas at the inlet",
        SignalRole.GasFlow => "Mass flow of the gas",
        SignalRole.Power => "Electrical power measured at the element",
        SignalRole.Output => "Output of the controller, of full power",
        SignalRole.WorkingSetpoint => "Setpoint the controller works with at this moment",
        SignalRole.BlowerDemand => "Blower demand as the cabinet has it",
        SignalRole.Heartbeat => "Permit token as the cabinet has it",
        SignalRole.Enable => "Enable bit as the cabinet has it",
        SignalRole.Relay => "Trip relay as the cabinet has it",
        SignalRole.ManualMode => "Mode of the controller",
        SignalRole.ManualOutput => "Manual output as the controller has it",
        SignalRole.RemoteSetpoint => "Remote setpoint as the controller has it",
        SignalRole.KeySupervised => "Key switch of the cabinet",
        SignalRole.WatchdogTime => "Watchdog time of the cabinet",
        SignalRole.ChainHealthy => "Hardwired safety chain",
        SignalRole.ContactorClosed => "Auxiliary contact of the main contactor",
        SignalRole.OutputLimit => "Output limit as the controller has it, of full power",
        SignalRole.WatchdogAlive => "The cabinet's own word on its watchdog",
        SignalRole.ElementTemperature2 => "Temperature of the heating element, second sensor",
        SignalRole.ElementTemperature3 => "Temperature of the heating element, third sensor",
        SignalRole.OutletTemperature2 => "Temperature of the gas at the outlet, second sensor",
        SignalRole.OutletTemperature3 => "Temperature of the gas at the outlet, third sensor",
        SignalRole.GasFlow2 => "Mass flow of the gas, second meter",
        SignalRole.GasFlow3 => "Mass flow of the gas, third meter",
        SignalRole.CurrentL1 => "Current of the first phase, true RMS",
        SignalRole.CurrentL2 => "Current of the second phase, true RMS",
        SignalRole.CurrentL3 => "Current of the third phase, true RMS",
        SignalRole.EarthLeakage => "Earth leakage current",
        SignalRole.Insulation => "Resistance of the insulation",
        SignalRole.ResetInput => "Reset button of the cabinet",
        SignalRole.ControllerSettings => "Whether the controller's settings are those it was commissioned with",
        SignalRole.MeterSettings => "Whether the settings of the meter, and of any other device the unit takes points from, are as commissioned",
        _ => "",
    };

    /// <summary>What is to be written, in a sentence for people; without a value while nothing is.</summary>
    public static string Description(CommandRole role) => role switch
    {
        CommandRole.Heartbeat => "Permit token to be written; it changes with each scan while power is permitted, 0 removes it",
        CommandRole.Relay => "Trip relay to be written: 1 energises, 0 trips",
        CommandRole.Enable => "Enable bit to be written",
        CommandRole.ManualMode => "Mode of the controller to be written: 0 automatic, 1 manual",
        CommandRole.ManualOutput => "Manual output to be written",
        CommandRole.Setpoint => "Remote setpoint to be written",
        CommandRole.BlowerDemand => "Blower demand to be written",
        CommandRole.OutputLimit => "Output limit to be written, of full power",
        _ => "",
    };

    public static string Text(SignalTable signal) =>
        $"poll block {signal.Block}, word {signal.WordOffset}, {signal.Type}{(signal.Type == WordType.Bit ? $" {signal.Bit}" : "")}; stale after {signal.StaleMs} ms, dropped after {signal.HoldMs} ms";
}
