namespace EdgeGuard.Service.Requests;

/// <summary>How much the people on watch were asked to take since start, after EEMUA 191, and what stands now.</summary>
/// <param name="Total">Annunciations.</param>
/// <param name="InTenMinutes">Annunciations of the last ten minutes.</param>
/// <param name="MostInTenMinutes">Most of them in ten minutes.</param>
/// <param name="AverageInTenMinutes">Average in ten minutes.</param>
/// <param name="InFlood">More than ten in ten minutes, and not below five since.</param>
/// <param name="Floods">Floods begun.</param>
/// <param name="FloodPercent">Share of the time in flood, per cent.</param>
public sealed record AlarmStatus(long Total, int InTenMinutes, int MostInTenMinutes, double AverageInTenMinutes, bool InFlood, int Floods, double FloodPercent)
{
    /// <summary>Grade of the average in the words of EEMUA 191.</summary>
    public string Load { get; init; } = string.Empty;

    /// <summary>Grade of the most in ten minutes in the words of EEMUA 191.</summary>
    public string UpsetLoad { get; init; } = string.Empty;

    /// <summary>Annunciations of high priority.</summary>
    public long High { get; init; }

    /// <summary>Annunciations of medium priority.</summary>
    public long Medium { get; init; }

    /// <summary>Annunciations of low priority.</summary>
    public long Low { get; init; }

    /// <summary>Alarms that are shown and whose condition stands.</summary>
    public int Standing { get; init; }

    /// <summary>Alarms nobody has acknowledged.</summary>
    public int Unacknowledged { get; init; }

    /// <summary>Alarms on the shelf.</summary>
    public int Shelved { get; init; }

    /// <summary>Alarms suppressed by design while their condition stands.</summary>
    public int Suppressed { get; init; }

    /// <summary>Alarms out of service.</summary>
    public int OutOfService { get; init; }

    /// <summary>Alarms annunciated three times within the last minute.</summary>
    public int Chattering { get; init; }

    /// <summary>Alarms shown for more than a day.</summary>
    public int Stale { get; init; }
}
