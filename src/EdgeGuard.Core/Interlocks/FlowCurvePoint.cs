namespace EdgeGuard.Core.Interlocks;

/// <summary>One point of the minimum flow curve.</summary>
/// <param name="TemperatureC">The higher of setpoint and element temperature, °C.</param>
/// <param name="FlowKgPerHour">Flow needed at it, kg/h.</param>
public readonly record struct FlowCurvePoint(double TemperatureC, double FlowKgPerHour);
