using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Electrical;

/// <summary>All that a <see cref="LegWatch"/> knows of one leg, so that it outlives a run.</summary>
public struct LegFigures
{
    /// <summary>Leg at the first reading, brought back to 20 °C, Ω; 0 before it.</summary>
    public double BaselineOhm;

    /// <summary>Sum over the blocks of the day under way, Ω at 20 °C.</summary>
    public double DaySumOhm;

    /// <summary>Deviations from the first reading over the days.</summary>
    public TrendState Trend;
}
