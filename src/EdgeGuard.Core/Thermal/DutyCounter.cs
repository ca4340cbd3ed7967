namespace EdgeGuard.Core.Thermal;

/// <summary>
/// Energy, hours under power and operations of the main contactor. Whole watt-hours are kept as an integer with a
/// remainder in joules, so that years of adding small amounts lose nothing. Allocates nothing.
/// </summary>
public sealed class DutyCounter
{
    private const double JoulePerWattHour = 3600;
    private readonly double _scanSeconds;
    private double _remainderJoule;
    private long _poweredScans;
    private long _unknownScans;
    private bool _closed;
    private bool _known;
    private bool _wasPowered;

    /// <summary>A counter at zero.</summary>
    /// <param name="scanSeconds">Scan period, s, above 0.</param>
    public DutyCounter(double scanSeconds)
    {
        if (!(scanSeconds > 0) || !double.IsFinite(scanSeconds))
        {
            throw new ArgumentOutOfRangeException(nameof(scanSeconds), "The scan period must be above 0 s.");
        }

        _scanSeconds = scanSeconds;
    }

    /// <summary>Energy, Wh.</summary>
    public long WattHours { get; private set; }

    /// <summary>Times the contactor was seen to close. The state it is first seen in is no operation.</summary>
    public int ContactorClosings { get; private set; }

    /// <summary>Times it was seen to open with power measured in the scan before: wears the contacts.</summary>
    public int OpeningsUnderPower { get; private set; }

    /// <summary>Hours with power.</summary>
    public double PoweredHours => _poweredScans * _scanSeconds / 3600;

    /// <summary>Time in which the power was not known, s: its energy is missing.</summary>
    public double UnknownSeconds => _unknownScans * _scanSeconds;

    /// <summary>All that was counted, to be kept.</summary>
    public DutyFigures Figures
    {
        get => new()
        {
            WattHours = WattHours,
            RemainderJoule = _remainderJoule,
            PoweredMs = Milliseconds(_poweredScans),
            UnknownMs = Milliseconds(_unknownScans),
            ContactorClosings = ContactorClosings,
            OpeningsUnderPower = OpeningsUnderPower,
        };
        set
        {
            WattHours = value.WattHours;
            _remainderJoule = value.RemainderJoule;
            _poweredScans = Scans(value.PoweredMs);
            _unknownScans = Scans(value.UnknownMs);
            ContactorClosings = value.ContactorClosings;
            OpeningsUnderPower = value.OpeningsUnderPower;
        }
    }

    /// <summary>Takes one scan.</summary>
    /// <param name="powerKw">Power, kW; NaN when not good; below 0 counts as 0.</param>
    /// <param name="presentAboveKw">Power above this, kW, counts as being under power.</param>
    /// <param name="contactorClosed">Auxiliary contact; null when not good or not fitted.</param>
    public void Add(double powerKw, double presentAboveKw, bool? contactorClosed)
    {
        if (contactorClosed is { } closed)
        {
            CountContactor(closed);
        }

        if (!double.IsFinite(powerKw))
        {
            _unknownScans++;
            return;
        }

        _wasPowered = powerKw > presentAboveKw;
        _poweredScans += _wasPowered ? 1 : 0;
        _remainderJoule += Math.Max(0, powerKw) * 1000 * _scanSeconds;
        while (_remainderJoule >= JoulePerWattHour)
        {
            _remainderJoule -= JoulePerWattHour;
            WattHours++;
        }
    }

    private long Milliseconds(long scans) => (long)Math.Round(scans * _scanSeconds * 1000);

    private long Scans(long milliseconds) => (long)Math.Round(milliseconds / (_scanSeconds * 1000));

    private void CountContactor(bool closed)
    {
        if (_known && closed && !_closed)
        {
            ContactorClosings++;
        }

        if (_known && !closed && _closed && _wasPowered)
        {
            OpeningsUnderPower++;
        }

        _closed = closed;
        _known = true;
    }
}
