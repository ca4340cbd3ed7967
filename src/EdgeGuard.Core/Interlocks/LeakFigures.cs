using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Interlocks;

/// <summary>All that a trend of LEAK knows, so that it outlives a run.</summary>
public struct LeakFigures
{
    /// <summary>Daily means against the alarm limit.</summary>
    public TrendState Trend;

    /// <summary>Sum of the day under way, mA or 1/kΩ.</summary>
    public double DaySum;

    /// <summary>Good readings in it.</summary>
    public int DayCount;

    /// <summary>Nominal time of the day under way, ms.</summary>
    public int DayMs;

    /// <summary>Days of guarding before it.</summary>
    public int Day;
}
