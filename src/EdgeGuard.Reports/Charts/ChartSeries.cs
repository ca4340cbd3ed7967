namespace EdgeGuard.Reports.Charts;

/// <summary>One line of a panel.</summary>
/// <param name="Name">Name in the legend.</param>
/// <param name="Points">
/// Time in seconds and value in the unit of the panel, in order of time. A value that is not finite is a gap: the
/// line is broken there, never bridged.
/// </param>
public sealed record ChartSeries(string Name, IReadOnlyList<(double T, double V)> Points);
