namespace EdgeGuard.Reports.Charts;

/// <summary>A horizontal line with a label at the right: a limit the series is judged against.</summary>
/// <param name="Name">Label, such as "trip" or "alarm"; the value is added.</param>
/// <param name="Value">Value in the unit of the panel.</param>
/// <param name="Trip">True for a trip limit, drawn stronger than an alarm limit or a guide line.</param>
public sealed record ChartLimit(string Name, double Value, bool Trip);
