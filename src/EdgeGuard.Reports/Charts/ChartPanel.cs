namespace EdgeGuard.Reports.Charts;

/// <summary>One diagram of a stack: one quantity, one unit, several series.</summary>
/// <param name="Title">Quantity, such as "Temperature".</param>
/// <param name="Unit">Unit of the axis.</param>
/// <param name="Series">Lines; six are told apart by colour and dash.</param>
/// <param name="Limits">Horizontal limit lines.</param>
public sealed record ChartPanel(
    string Title, string Unit, IReadOnlyList<ChartSeries> Series, IReadOnlyList<ChartLimit> Limits)
{
    /// <summary>The axis reaches at least down to this; null lets data and limits decide.</summary>
    public double? Min { get; init; } = 0;

    /// <summary>The axis reaches at least up to this; null lets data and limits decide.</summary>
    public double? Max { get; init; }

    /// <summary>Height of the plot area in units of the picture (its width is 1000).</summary>
    public int Height { get; init; } = 190;
}
