namespace EdgeGuard.Core.Alarms;

/// <summary>How the average number of annunciations over a long time is to be taken, in the words of EEMUA 191.</summary>
public enum AlarmLoad : byte
{
    /// <summary>More than 10 in 10 min (one a minute).</summary>
    VeryLikelyUnacceptable = 0,

    /// <summary>More than 2 in 10 min (one in 5 min), up to 10: one in 2 min stands in the guide.</summary>
    LikelyOverDemanding = 1,

    /// <summary>More than 1 in 10 min, up to 2 (one in 5 min).</summary>
    Manageable = 2,

    /// <summary>At most 1 in 10 min.</summary>
    VeryLikelyAcceptable = 3,
}
