namespace EdgeGuard.Service.Requests;

/// <summary>Hours that an element spent in a temperature band since the guard started.</summary>
/// <param name="FromC">Lower edge of the band, °C; it ends at the next edge.</param>
/// <param name="Hours">Hours.</param>
public sealed record BandReport(double FromC, double Hours);
