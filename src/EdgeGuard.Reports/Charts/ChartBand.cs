namespace EdgeGuard.Reports.Charts;

/// <summary>A stretch of time with a name, such as a state of the unit; shaded through all panels.</summary>
/// <param name="Name">Name, written in the lane above the panels where there is room.</param>
/// <param name="FromT">Start, s.</param>
/// <param name="ToT">End, s.</param>
/// <param name="Tone">Colour meaning.</param>
public sealed record ChartBand(string Name, double FromT, double ToT, ChartTone Tone);
