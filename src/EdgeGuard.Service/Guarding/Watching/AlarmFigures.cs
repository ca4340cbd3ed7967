using EdgeGuard.Core.Alarms;

namespace EdgeGuard.Service.Guarding.Watching;

/// <summary>Copy of the alarm rates of the site and of what stands in the latest scan.</summary>
internal struct AlarmFigures
{
    public long Total;
    public int InTenMinutes;
    public int MostInTenMinutes;
    public double AverageInTenMinutes;
    public bool InFlood;
    public int Floods;
    public double FloodPercent;
    public long High;
    public long Medium;
    public long Low;
    public AlarmTally Tally;

    public static AlarmFigures Of(SiteWatch watch)
    {
        AlarmRates rates = watch.Rates;
        return new AlarmFigures
        {
            Total = rates.Total,
            InTenMinutes = rates.InTenMinutes,
            MostInTenMinutes = rates.MostInTenMinutes,
            AverageInTenMinutes = rates.AverageInTenMinutes,
            InFlood = rates.InFlood,
            Floods = rates.Floods,
            FloodPercent = rates.FloodPercent,
            High = rates.Count(AlarmPriority.High),
            Medium = rates.Count(AlarmPriority.Medium),
            Low = rates.Count(AlarmPriority.Low),
            Tally = watch.Tally,
        };
    }
}
