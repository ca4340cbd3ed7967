namespace EdgeGuard.Service.Requests;

/// <summary>The legs of a heater over time, brought back to 20 °C.</summary>
/// <param name="Percent">Deviation of each leg from its first reading, per cent.</param>
/// <param name="Readings">Readings, one a day at most.</param>
/// <param name="PercentPerYear">Slope of the leg that rises fastest, per cent a year; absent with one reading.</param>
/// <param name="WarnUtcMs">When it is expected 10 per cent up, UTC ms; absent before 90 days or 10 cycles and while it could as well not rise.</param>
/// <param name="EarliestUtcMs">Earliest such time by the range of the slope.</param>
/// <param name="LatestUtcMs">Latest such time; absent where that lies beyond any plan.</param>
public sealed record LegStatus(IReadOnlyList<double> Percent, int Readings, double? PercentPerYear, double? WarnUtcMs, double? EarliestUtcMs, double? LatestUtcMs);
