using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// ELEM and OUTL: a temperature with alarm and trip limit and one hysteresis, always in force. A value that is not
/// good cannot be judged here: it forbids reset and permit at once and trips through SENS after the delay of SENS, so
/// that the first-out names the sensor and not the temperature. It never calms a condition that stood before.
/// </summary>
internal abstract class TemperatureFunction(FunctionId id, SignalRole role, TemperatureTable table) : ProtectiveFunction(id)
{
    private ScanDelay _high;
    private bool _aboveTrip;
    private bool _aboveAlarm;

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        ref SignalValue temperature = ref unit.Image[role];
        if (temperature.IsGood)
        {
            _aboveTrip = temperature.Value >= (_aboveTrip ? table.TripC - table.HysteresisK : table.TripC);
            _aboveAlarm = _aboveTrip || temperature.Value >= (_aboveAlarm ? table.AlarmC - table.HysteresisK : table.AlarmC);
        }

        bool demands = _high.Passed(_aboveTrip, unit.Scan, unit.Scans(table.DelayMs));
        status.Value = unit.ValueOrNaN(role);
        status.Limit = _aboveAlarm && !_aboveTrip ? table.AlarmC : table.TripC;
        status.SinceScan = _high.Since;
        status.State = demands ? FunctionState.Demand
            : !temperature.IsGood ? FunctionState.NotGood
            : _aboveTrip ? FunctionState.Pending
            : _aboveAlarm ? FunctionState.Alarm
            : FunctionState.Healthy;
    }
}
