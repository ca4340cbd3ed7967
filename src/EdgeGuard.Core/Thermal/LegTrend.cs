namespace EdgeGuard.Core.Thermal;

/// <summary>
/// Resistance of one leg, brought back to 20 °C, over the months: how far it is from the value at commissioning, how fast
/// it goes, and, when there is enough to say so, when it reaches +10 %. No date is given before 90 days or 10 cycles have
/// passed, nor while the slope could as well be none: a line through a few days tells of the weather.
/// </summary>
/// <remarks>
/// Straight line by least squares through deviation against days. Criteria +10 % (warn) and +20 % (replace): common
/// practice, no source. The range of the date is that of the slope at ±2 standard deviations.
/// </remarks>
public sealed class LegTrend
{
    /// <summary>Days before a date is given, unless the cycles suffice.</summary>
    public const double LeastDays = 90;

    /// <summary>Cycles before a date is given, unless the days suffice.</summary>
    public const int LeastCycles = 10;

    /// <summary>Deviation at which an element is to be watched, per cent; common practice, no source.</summary>
    public const double WarnPercent = 10;

    private const int LeastPoints = 5;
    private const double Sigmas = 2;
    private readonly double _baselineOhm;
    private double _sumX;
    private double _sumY;
    private double _sumXX;
    private double _sumXY;
    private double _sumYY;
    private double _firstDay;
    private double _lastDay;

    /// <summary>A trend against the value at commissioning.</summary>
    /// <param name="baselineOhmAt20C">Leg at commissioning, brought back to 20 °C, Ω, above 0.</param>
    public LegTrend(double baselineOhmAt20C)
    {
        if (!(baselineOhmAt20C > 0) || !double.IsFinite(baselineOhmAt20C))
        {
            throw new ArgumentOutOfRangeException(nameof(baselineOhmAt20C), "The leg at commissioning must be above 0 Ω.");
        }

        _baselineOhm = baselineOhmAt20C;
    }

    /// <summary>All that is known, to be kept.</summary>
    public TrendState State
    {
        get => new()
        {
            Points = Points,
            Cycles = Cycles,
            FirstDay = _firstDay,
            LastDay = _lastDay,
            LatestPercent = LatestPercent,
            SumX = _sumX,
            SumY = _sumY,
            SumXX = _sumXX,
            SumXY = _sumXY,
            SumYY = _sumYY,
        };
        set
        {
            (Points, Cycles, LatestPercent) = (value.Points, value.Cycles, value.Points > 0 ? value.LatestPercent : double.NaN);
            (_firstDay, _lastDay) = (value.FirstDay, value.LastDay);
            (_sumX, _sumY) = (value.SumX, value.SumY);
            (_sumXX, _sumXY, _sumYY) = (value.SumXX, value.SumXY, value.SumYY);
        }
    }

    /// <summary>Points taken.</summary>
    public int Points { get; private set; }

    /// <summary>Thermal cycles between the first and the latest point.</summary>
    public int Cycles { get; private set; }

    /// <summary>Deviation of the latest point from commissioning, per cent; NaN before one.</summary>
    public double LatestPercent { get; private set; } = double.NaN;

    /// <summary>Slope of the line, per cent a day; NaN with fewer than two days.</summary>
    public double PercentPerDay
    {
        get
        {
            double spread = SpreadX;
            return spread > 0 ? (_sumXY - (_sumX * _sumY / Points)) / spread : double.NaN;
        }
    }

    /// <summary>Standard deviation of that slope, per cent a day; NaN with fewer than three points.</summary>
    public double SlopeSigma
    {
        get
        {
            double spread = SpreadX;
            if (Points < 3 || !(spread > 0))
            {
                return double.NaN;
            }

            double rest = _sumYY - (_sumY * _sumY / Points) - (PercentPerDay * PercentPerDay * spread);
            return Math.Sqrt(Math.Max(0, rest) / (Points - 2) / spread);
        }
    }

    /// <summary>True when days or cycles, points and slope allow a date.</summary>
    public bool AllowsDate => Points >= LeastPoints
        && (_lastDay - _firstDay >= LeastDays || Cycles >= LeastCycles)
        && PercentPerDay - (Sigmas * SlopeSigma) > 0;

    private double SpreadX => Points > 1 ? _sumXX - (_sumX * _sumX / Points) : 0;

    /// <summary>Takes a reading, one a day or less often.</summary>
    /// <param name="day">Days since commissioning; not before the latest.</param>
    /// <param name="ohmAt20C">Leg brought back to 20 °C, Ω; what is no resistance is left out.</param>
    /// <param name="cycles">Thermal cycles since the reading before.</param>
    public void Add(double day, double ohmAt20C, int cycles)
    {
        if (!(ohmAt20C > 0) || !double.IsFinite(ohmAt20C) || !(day >= _lastDay || Points == 0) || !double.IsFinite(day))
        {
            return;
        }

        double percent = 100 * ((ohmAt20C / _baselineOhm) - 1);
        _firstDay = Points == 0 ? day : _firstDay;
        Cycles += Points == 0 ? 0 : Math.Max(0, cycles);
        _lastDay = day;
        LatestPercent = percent;
        Points++;
        _sumX += day;
        _sumY += percent;
        _sumXX += day * day;
        _sumXY += day * percent;
        _sumYY += percent * percent;
    }

    /// <summary>Days from commissioning until the line reaches a deviation, with the range of the slope.</summary>
    /// <param name="percent">Deviation, per cent, such as <see cref="WarnPercent"/>.</param>
    /// <returns>Likely, earliest and latest day; all NaN while <see cref="AllowsDate"/> is false.</returns>
    public (double LikelyDay, double EarliestDay, double LatestDay) DayOf(double percent)
    {
        if (!AllowsDate)
        {
            return (double.NaN, double.NaN, double.NaN);
        }

        // From the middle of the points, where the line is surest.
        double middleDay = _sumX / Points;
        double left = percent - (_sumY / Points);
        double slope = PercentPerDay;
        double half = Sigmas * SlopeSigma;
        return (middleDay + (left / slope), middleDay + (left / (slope + half)), middleDay + (left / (slope - half)));
    }
}
