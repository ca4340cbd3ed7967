namespace EdgeGuard.Core.Thermal;

/// <summary>What the energy balance reads in one scan; a value that is not good is NaN and spoils its block.</summary>
/// <param name="PowerKw">Electrical power, kW.</param>
/// <param name="FlowKgPerHour">Mass flow, kg/h.</param>
/// <param name="InletC">Gas at the inlet, °C.</param>
/// <param name="OutletC">Gas at the outlet, °C.</param>
/// <param name="ElementC">Element, °C.</param>
public readonly record struct EnergyBalanceSample(double PowerKw, double FlowKgPerHour, double InletC, double OutletC, double ElementC);
