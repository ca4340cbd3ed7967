using EdgeGuard.Core.Alarms;

namespace EdgeGuard.Service.Guarding.Watching;

/// <summary>Copy of the alarm rates of the site.</summary>
internal struct AlarmFigures
{
    public long Total;
    public int InTenMinutes;
    public int MostInTenMinutes;
    public double AverageInTenMinutes;
    public bool InFlood;
    public int Floods;
    public double FloodPercent;

    public static AlarmFigures Of(AlarmRates rates) => new()
    {
        Total = rates.Total,
        InTenMinutes = rates.InTenMinutes,
        MostInTenMinutes = rates.MostInTenMinutes,
        AverageInTenMinutes = rates.AverageInTenMinutes,
        InFlood = rates.InFlood,
        Floods = rates.Floods,
        FloodPercent = rates.FloodPercent,
    };
}
