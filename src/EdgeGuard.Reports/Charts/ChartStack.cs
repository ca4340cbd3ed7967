namespace EdgeGuard.Reports.Charts;

/// <summary>Panels over one common time axis, with bands and marks through all of them.</summary>
/// <param name="Title">What is shown; also the text for readers that see no picture.</param>
/// <param name="Panels">Panels from top to bottom, at least one.</param>
public sealed record ChartStack(string Title, IReadOnlyList<ChartPanel> Panels)
{
    /// <summary>States over time.</summary>
    public IReadOnlyList<ChartBand> Bands { get; init; } = [];

    /// <summary>Moments.</summary>
    public IReadOnlyList<ChartMark> Marks { get; init; } = [];

    /// <summary>Writes a time of the axis; null writes minutes and seconds since 0.</summary>
    public Func<double, string>? TimeLabel { get; init; }
}
