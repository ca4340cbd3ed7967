using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Configuration.Maps;

/// <summary>All signal roles by the names that stand in the `role` column and under `signals`.</summary>
internal static class RoleFacts
{
    /// <summary>In the `role` column: polled and recorded, without a meaning to the unit.</summary>
    public const string RecordOnly = "record";

    /// <summary>In the `role` column: a setting of the device, compared with its snapshot at each connect.</summary>
    public const string Setting = "setting";

    public static readonly IReadOnlyList<RoleFact> All =
    [
        new("elementTemperature", SignalRole.ElementTemperature, RoleDimension.Temperature),
        new("outletTemperature", SignalRole.OutletTemperature, RoleDimension.Temperature),
        new("inletTemperature", SignalRole.InletTemperature, RoleDimension.Temperature),
        new("gasFlow", SignalRole.GasFlow, RoleDimension.MassFlow),
        new("power", SignalRole.Power, RoleDimension.Power),
        new("output", SignalRole.Output, RoleDimension.Percent),
        new("workingSetpoint", SignalRole.WorkingSetpoint, RoleDimension.Temperature),
        new("blowerDemand", SignalRole.BlowerDemand, RoleDimension.Percent),
        new("heartbeat", SignalRole.Heartbeat, RoleDimension.Count),
        new("enable", SignalRole.Enable, RoleDimension.Digital),
        new("relay", SignalRole.Relay, RoleDimension.Digital),
        new("manualMode", SignalRole.ManualMode, RoleDimension.Digital),
        new("manualOutput", SignalRole.ManualOutput, RoleDimension.Percent),
        new("remoteSetpoint", SignalRole.RemoteSetpoint, RoleDimension.Temperature),
        new("keySupervised", SignalRole.KeySupervised, RoleDimension.Digital),
        new("watchdogTime", SignalRole.WatchdogTime, RoleDimension.Duration),
        new("chainHealthy", SignalRole.ChainHealthy, RoleDimension.Digital),
        new("outputLimit", SignalRole.OutputLimit, RoleDimension.Percent),
        new("contactorClosed", SignalRole.ContactorClosed, RoleDimension.Digital),
        new("watchdogAlive", SignalRole.WatchdogAlive, RoleDimension.Digital),
        new("elementTemperature2", SignalRole.ElementTemperature2, RoleDimension.Temperature),
        new("elementTemperature3", SignalRole.ElementTemperature3, RoleDimension.Temperature),
        new("outletTemperature2", SignalRole.OutletTemperature2, RoleDimension.Temperature),
        new("outletTemperature3", SignalRole.OutletTemperature3, RoleDimension.Temperature),
        new("gasFlow2", SignalRole.GasFlow2, RoleDimension.MassFlow),
        new("gasFlow3", SignalRole.GasFlow3, RoleDimension.MassFlow),
        new("currentL1", SignalRole.CurrentL1, RoleDimension.Current),
        new("currentL2", SignalRole.CurrentL2, RoleDimension.Current),
        new("currentL3", SignalRole.CurrentL3, RoleDimension.Current),
        new("earthLeakage", SignalRole.EarthLeakage, RoleDimension.LeakageCurrent),
        new("insulation", SignalRole.Insulation, RoleDimension.Resistance),
        new("resetInput", SignalRole.ResetInput, RoleDimension.Digital),
    ];

    public static RoleFact? Find(string name) => All.FirstOrDefault(r => string.Equals(r.Name, name, StringComparison.Ordinal));

    public static RoleFact Of(SignalRole role) => All.First(r => r.Role == role);
}
