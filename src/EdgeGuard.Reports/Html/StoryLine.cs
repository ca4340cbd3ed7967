using EdgeGuard.Reports.Charts;

namespace EdgeGuard.Reports.Html;

/// <summary>One line of a story.</summary>
/// <param name="Time">When, as the reader shall see it.</param>
/// <param name="Unit">The unit concerned; empty for the site.</param>
/// <param name="Text">What happened, in plain words.</param>
/// <param name="Tone">Colour of the margin; a fault is also set bold.</param>
public sealed record StoryLine(string Time, string Unit, string Text, ChartTone Tone);
