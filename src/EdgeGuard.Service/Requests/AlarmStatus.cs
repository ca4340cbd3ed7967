namespace EdgeGuard.Service.Requests;

/// <summary>How much the people on watch were asked to take since start, after EEMUA 191.</summary>
/// <param name="Total">Annunciations.</param>
/// <param name="InTenMinutes">Annunciations of the last ten minutes.</param>
/// <param name="MostInTenMinutes">Most of them in ten minutes.</param>
/// <param name="AverageInTenMinutes">Average in ten minutes.</param>
/// <param name="InFlood">More than ten in ten minutes, and not below five since.</param>
/// <param name="Floods">Floods begun.</param>
/// <param name="FloodPercent">Share of the time in flood, per cent.</param>
public sealed record AlarmStatus(long Total, int InTenMinutes, int MostInTenMinutes, double AverageInTenMinutes, bool InFlood, int Floods, double FloodPercent);
