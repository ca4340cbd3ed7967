namespace EdgeGuard.Core.Thermal;

/// <summary>All that a <see cref="LegTrend"/> knows, so that it outlives a run. Zero, with no number as latest deviation: no points.</summary>
public struct TrendState
{
    /// <summary>Points taken.</summary>
    public int Points;

    /// <summary>Thermal cycles between the first and the latest point.</summary>
    public int Cycles;

    /// <summary>Day of the first point.</summary>
    public double FirstDay;

    /// <summary>Day of the latest point.</summary>
    public double LastDay;

    /// <summary>Deviation of the latest point, per cent; NaN before one.</summary>
    public double LatestPercent;

    /// <summary>Sum of the days.</summary>
    public double SumX;

    /// <summary>Sum of the deviations.</summary>
    public double SumY;

    /// <summary>Sum of the squared days.</summary>
    public double SumXX;

    /// <summary>Sum of day times deviation.</summary>
    public double SumXY;

    /// <summary>Sum of the squared deviations.</summary>
    public double SumYY;
}
