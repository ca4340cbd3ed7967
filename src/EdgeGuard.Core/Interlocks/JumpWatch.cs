using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Recognises a temperature that changes faster than physics allows: a loose terminal, a disturbed input. One jump is
/// told for a minute; several within a minute are a sensor that cannot be relied on.
/// </summary>
internal sealed class JumpWatch(SignalRole role)
{
    /// <summary>Jumps within <see cref="MemoryMs"/> from which on the sensor counts as lost. Engineering choice.</summary>
    private const int LostFrom = 3;

    private const int MemoryMs = 60_000;

    /// <summary>Noise and resolution of an input, K, beside what the slope allows.</summary>
    private const double NoiseK = 5;

    private double _value = double.NaN;
    private long _scan;
    private int _jumps;

    /// <summary>Scan of the latest jump.</summary>
    public long Since { get; private set; } = -1;

    /// <summary>A jump within the last minute.</summary>
    public bool Jumped => _jumps > 0;

    /// <summary>Several jumps within the last minute.</summary>
    public bool IsLost => _jumps >= LostFrom;

    public void Update(UnitMemory unit, SensorTable table)
    {
        if (_jumps > 0 && unit.Scan - Since > unit.Scans(MemoryMs))
        {
            _jumps = 0;
        }

        double value = unit.RealOrNaN(role);
        if (double.IsNaN(value))
        {
            return; // judged against the last good value when it comes back
        }

        double allowed = NoiseK + (table.SlopeMaxKPerSecond * (unit.Scan - _scan) * unit.Site.ScanMs / 1_000);
        if (Math.Abs(value - _value) > allowed)
        {
            _jumps = Math.Min(_jumps + 1, LostFrom);
            Since = unit.Scan;
        }

        _value = value;
        _scan = unit.Scan;
    }
}
