using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Recognises a sensor that reads a good value which no longer lives by the noise it has lost: each sensor scatters, and
/// one whose scatter falls far below what was learnt at commissioning reads a copy. Learnt on a person's request only
/// (what a frozen sensor would teach by itself is to trust it), from the quietest of some windows, and judged only while
/// gas flows under power. A resolution so coarse that a living sensor repeats itself for a whole window is told and not judged.
/// </summary>
internal sealed class NoiseWatch(SignalRole role, double keptFloor)
{
    /// <summary>Windows that are learnt from. Engineering choice.</summary>
    private const int LearnWindows = 10;

    /// <summary>Readings a window must have: with 60 the variance is known to about 22 per cent (von Neumann and others 1941).</summary>
    private const int LeastReadings = 60;

    /// <summary>Chance per window of a living sensor that stands still, beyond which its resolution is too coarse to be judged.</summary>
    private const double ChanceMax = 1e-9;

    private readonly SuccessiveDifferences _window = new();
    private long _begin = -1;
    private int _age = int.MaxValue;
    private int _windowsLeft;
    private double _quietest;
    private double _chance;
    private double _stillAt;

    /// <summary>Role of the sensor.</summary>
    public SignalRole Role => role;

    /// <summary>Learnt scatter of a reading; 0: not judged.</summary>
    public double Floor { get; private set; } = keptFloor > 0 && double.IsFinite(keptFloor) ? keptFloor : 0;

    /// <summary>It learns.</summary>
    public bool Learns => _windowsLeft > 0;

    /// <summary>The sensor scatters far less than it should; until it moves.</summary>
    public bool IsFrozen { get; private set; }

    /// <summary>First scan of the window in which that was found.</summary>
    public long Since { get; private set; } = -1;

    /// <summary>Forgets the floor and learns it from the next windows.</summary>
    public void BeginLearning()
    {
        (Floor, IsFrozen) = (0, false);
        (_windowsLeft, _quietest, _chance) = (LearnWindows, double.PositiveInfinity, 0);
        _begin = -1;
    }

    /// <summary>One scan.</summary>
    /// <returns>True in the scan in which learning ends.</returns>
    public bool Follow(UnitMemory unit, SensorTable table)
    {
        double value = unit.RealOrNaN(role);
        IsFrozen = IsFrozen && !(Math.Abs(value - _stillAt) > Floor);
        bool fresh = IsFresh(unit);
        if (double.IsNaN(value) || unit.Raw.SkippedScans > 0 || !IsLive(unit))
        {
            _begin = -1;
            return false;
        }

        if (_begin < 0)
        {
            Begin(unit.Scan);
            fresh = true;
        }

        if (fresh)
        {
            _window.Add(value);
        }

        return unit.Scan - _begin >= unit.Scans(table.NoiseMs) && End(unit, table, value);
    }

    /// <summary>Gas flows and power may be drawn: at standstill a meter reads an even zero and a cold sensor hardly scatters.</summary>
    private static bool IsLive(UnitMemory unit) =>
        unit.MayDrawPower && unit.RealOrNaN(SignalRole.GasFlow) >= unit.Table.Flow.AfterCoolingKgPerHour;

    /// <summary>A reading that was not read anew has aged by about a scan; it says nothing twice.</summary>
    private bool IsFresh(UnitMemory unit)
    {
        int age = unit.Real[role].AgeMs;
        bool fresh = age - (long)_age < unit.Site.ScanMs / 2;
        _age = age;
        return fresh;
    }

    private void Begin(long scan)
    {
        _window.Clear();
        _begin = scan;
    }

    private bool End(UnitMemory unit, SensorTable table, double value)
    {
        bool learnt = false;
        if (_window.Count >= LeastReadings)
        {
            learnt = Learns && Learn();
            Judge(table, value);
        }

        Begin(unit.Scan);
        _window.Add(value);
        return learnt;
    }

    private bool Learn()
    {
        _quietest = Math.Min(_quietest, _window.Scatter);
        _chance = Math.Max(_chance, SuccessiveDifferences.ChanceOfRun(_window.ChangedShare, _window.Count));
        _windowsLeft--;
        if (_windowsLeft > 0)
        {
            return false;
        }

        Floor = _chance <= ChanceMax ? _quietest : 0;
        return true;
    }

    private void Judge(SensorTable table, double value)
    {
        IsFrozen = Floor > 0 && _window.Scatter < table.NoisePercent / 100 * Floor;
        if (IsFrozen)
        {
            (Since, _stillAt) = (_begin, value);
        }
    }
}
