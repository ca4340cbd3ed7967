using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// One figure of LEAK over the months, as daily means against its alarm limit: insulation that goes slowly shows long before it
/// passes a limit. Days are those of guarding (24 h of nominal scans, over restarts): the core knows no calendar. A line
/// through less than 90 days, or one that could as well not rise, tells nothing.
/// </summary>
internal sealed class LeakTrend
{
    private const int DayMs = 86_400_000;

    private readonly LegTrend? _trend;
    private LeakFigures _figures;

    /// <param name="limit">Alarm limit in the unit of the figure; where there is none nothing is followed.</param>
    /// <param name="kept">What an earlier run left.</param>
    public LeakTrend(double limit, in LeakFigures kept)
    {
        _figures = kept;
        _trend = limit > 0 && double.IsFinite(limit) ? new LegTrend(limit) { State = kept.Trend } : null;
        DaysLeft = Left();
    }

    /// <summary>All that is known, to be kept.</summary>
    public LeakFigures Figures => _figures with { Trend = _trend?.State ?? default };

    /// <summary>Days of guarding until the line reaches the alarm limit; infinite where that may not be said.</summary>
    public double DaysLeft { get; private set; }

    /// <summary>One scan; a figure that is not good is left out.</summary>
    public void Add(double figure, int scanMs)
    {
        if (_trend is null)
        {
            return;
        }

        if (double.IsFinite(figure))
        {
            _figures.DaySum += figure;
            _figures.DayCount++;
        }

        _figures.DayMs += scanMs;
        if (_figures.DayMs >= DayMs)
        {
            EndDay();
        }
    }

    private void EndDay()
    {
        if (_figures.DayCount > 0)
        {
            _trend!.Add(_figures.Day, _figures.DaySum / _figures.DayCount, cycles: 0);
        }

        _figures.Day++;
        (_figures.DaySum, _figures.DayCount, _figures.DayMs) = (0, 0, 0);
        DaysLeft = Left();
    }

    private double Left()
    {
        double day = _trend?.DayOf(0).LikelyDay ?? double.NaN;
        return double.IsNaN(day) ? double.PositiveInfinity : Math.Max(0, day - _figures.Day);
    }
}
