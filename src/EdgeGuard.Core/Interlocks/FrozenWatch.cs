using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Recognises a sensor that reads a good value which no longer lives. Standing still alone proves nothing: a steady
/// state stands still. Only a value that stays the same bit for bit although its excitation has changed since it last
/// moved is frozen: power for a temperature (gas as cold as the metal changes nothing), the blower for a flow.
/// </summary>
internal sealed class FrozenWatch(SignalRole role)
{
    /// <summary>Time constant of the excitation, ms: a burst of firing is no change of power.</summary>
    private const double FilterMs = 10_000;

    private double _value = double.NaN;
    private double _power = double.NaN;
    private double _powerAtMove;
    private double _blowerAtMove;
    private ScanDelay _still;

    /// <summary>Scan since when the value stands still; −1 when it moves.</summary>
    public long Since => _still.Since;

    /// <summary>One scan; true when the value is frozen.</summary>
    public bool IsFrozen(UnitMemory unit, SensorTable table)
    {
        double value = unit.RealOrNaN(role);
        double blower = unit.Fitted[(int)SignalRole.BlowerDemand] ? unit.ValueOrNaN(SignalRole.BlowerDemand) : 0;
        Filter(unit);
        bool same = value == _value; // never for a value that is not good
        _value = value;
        bool standsLong = _still.Passed(same, unit.Scan, unit.Scans(table.FrozenMs));
        if (!same)
        {
            _powerAtMove = _power;
            _blowerAtMove = blower;
            return false;
        }

        double changedPercent = role == SignalRole.GasFlow
            ? Math.Abs(blower - _blowerAtMove)
            : Math.Abs(_power - _powerAtMove) / unit.Table.RatedPowerKw * 100;
        return standsLong && changedPercent >= table.ExcitationPercent;
    }

    private void Filter(UnitMemory unit)
    {
        double power = unit.ValueOrNaN(SignalRole.Power);
        double part = Math.Min(1, unit.Site.ScanMs / FilterMs);
        _power = double.IsNaN(power) ? _power : double.IsNaN(_power) ? power : _power + (part * (power - _power));
    }
}
