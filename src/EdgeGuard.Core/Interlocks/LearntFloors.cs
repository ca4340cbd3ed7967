namespace EdgeGuard.Core.Interlocks;

/// <summary>Noise of the sensors of a unit as learnt at commissioning, standard deviation of a reading; 0 where nothing is learnt or can be judged.</summary>
/// <param name="ElementK">Element, K.</param>
/// <param name="OutletK">Outlet gas, K.</param>
/// <param name="FlowKgPerHour">Gas flow, kg/h.</param>
public readonly record struct LearntFloors(double ElementK, double OutletK, double FlowKgPerHour);
