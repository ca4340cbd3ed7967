using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>OUTL: temperature of the gas at the outlet. Blind without flow, since a stagnant duct cools.</summary>
internal sealed class OutletFunction(TemperatureTable table)
    : TemperatureFunction(FunctionId.Outl, SignalRole.OutletTemperature, table)
{
}
