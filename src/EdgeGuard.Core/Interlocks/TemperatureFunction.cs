using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// ELEM and OUTL: a temperature with alarm and trip limit and one hysteresis, always in force. A value that is not
/// good cannot be judged here: it forbids reset and permit at once and trips through SENS after the delay of SENS, so
/// that the first-out names the sensor and not the temperature. It never calms a condition that stood before.
/// </summary>
internal abstract class TemperatureFunction(FunctionId id, SignalRole role, TemperatureTable table)
    : ForcibleFunction<TemperatureFunction.TemperatureMemory>(id)
{
    protected override void Judge(UnitMemory unit, ref TemperatureMemory memory, ref FunctionStatus status)
    {
        ref SignalValue temperature = ref unit.Image[role];
        if (temperature.IsGood)
        {
            memory.AboveTrip = temperature.Value >= (memory.AboveTrip ? table.TripC - table.HysteresisK : table.TripC);
            memory.AboveAlarm = memory.AboveTrip || temperature.Value >= (memory.AboveAlarm ? table.AlarmC - table.HysteresisK : table.AlarmC);
        }

        bool demands = memory.High.Passed(memory.AboveTrip, unit.Scan, unit.Scans(table.DelayMs));
        status.Value = unit.ValueOrNaN(role);
        status.Limit = memory.AboveAlarm && !memory.AboveTrip ? table.AlarmC : table.TripC;
        status.SinceScan = memory.High.Since;
        status.State = demands ? FunctionState.Demand
            : !temperature.IsGood ? FunctionState.NotGood
            : memory.AboveTrip ? FunctionState.Pending
            : memory.AboveAlarm ? FunctionState.Alarm
            : FunctionState.Healthy;
    }

    internal struct TemperatureMemory
    {
        public ScanDelay High;
        public bool AboveTrip;
        public bool AboveAlarm;
    }
}
