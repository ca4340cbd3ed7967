namespace EdgeGuard.Reports.Charts;

/// <summary>A moment worth a vertical line through all panels, with a number that the legend explains.</summary>
/// <param name="T">Time, s.</param>
/// <param name="Text">What happened.</param>
/// <param name="Tone">Colour meaning.</param>
public sealed record ChartMark(double T, string Text, ChartTone Tone);
