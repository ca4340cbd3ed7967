using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Configuration.Maps;

/// <summary>
/// All command roles by their names under `commands`. A writable point of a map whose role is the read-back of a
/// command is that command. Tolerances: exact for states and tokens, half a kelvin and half a per cent for analogue values.
/// </summary>
internal static class CommandFacts
{
    public static readonly IReadOnlyList<CommandFact> All =
    [
        new("heartbeat", CommandRole.Heartbeat, SignalRole.Heartbeat, 0),
        new("relay", CommandRole.Relay, SignalRole.Relay, 0),
        new("enable", CommandRole.Enable, SignalRole.Enable, 0),
        new("manualMode", CommandRole.ManualMode, SignalRole.ManualMode, 0),
        new("manualOutput", CommandRole.ManualOutput, SignalRole.ManualOutput, 0.5),
        new("setpoint", CommandRole.Setpoint, SignalRole.RemoteSetpoint, 0.5),
        new("blowerDemand", CommandRole.BlowerDemand, SignalRole.BlowerDemand, 0.5),
        new("outputLimit", CommandRole.OutputLimit, SignalRole.OutputLimit, 0.1),
    ];

    public static CommandFact Of(CommandRole role) => All.First(c => c.Role == role);

    /// <summary>The command that a writable point with this signal role is; null for roles that are never written.</summary>
    public static CommandFact? WrittenAs(SignalRole role) => All.FirstOrDefault(c => c.ReadBack == role);
}
