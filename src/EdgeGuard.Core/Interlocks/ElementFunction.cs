using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>ELEM: temperature of the heating element. Never cover for dry fire when the sensor is sheathed: its lag is too long.</summary>
internal sealed class ElementFunction(TemperatureTable table)
    : TemperatureFunction(FunctionId.Elem, SignalRole.ElementTemperature, table)
{
}
