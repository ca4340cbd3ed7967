namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>What a control loop sees.</summary>
/// <param name="SetpointC">Setpoint of the outlet gas, °C.</param>
/// <param name="OutletC">Outlet as indicated, °C.</param>
/// <param name="ElementC">Element as indicated, °C.</param>
public readonly record struct LoopValues(double SetpointC, double OutletC, double ElementC);
