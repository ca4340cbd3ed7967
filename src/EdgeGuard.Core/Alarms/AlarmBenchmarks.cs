namespace EdgeGuard.Core.Alarms;

/// <summary>
/// What EEMUA 191 makes of alarm figures, per person on watch (from memory, as the grades stand in its second edition):
/// long-term averages of one a minute, in 2, in 5 and in 10 min, and numbers in the 10 min after an upset. A limit that
/// the guide leaves open falls to the graver side.
/// </summary>
public static class AlarmBenchmarks
{
    /// <summary>Long-term average in 10 min that is very likely acceptable.</summary>
    public const double AcceptableInTenMinutes = 1;

    /// <summary>Long-term average in 10 min that is manageable: one in 5 min.</summary>
    public const double ManageableInTenMinutes = 2;

    /// <summary>Long-term average in 10 min above which it is very likely unacceptable: one a minute.</summary>
    public const double UnacceptableAboveInTenMinutes = 10;

    /// <summary>Annunciations in 10 min after an upset that should be manageable.</summary>
    public const int UpsetManageable = 10;

    /// <summary>Annunciations in 10 min after an upset above which it is definitely excessive.</summary>
    public const int UpsetExcessiveAbove = 100;

    /// <summary>Grade of a long-term average; a figure that is no number is of the gravest.</summary>
    /// <param name="averageInTenMinutes">Annunciations in 10 min, 0 or more.</param>
    public static AlarmLoad OfAverage(double averageInTenMinutes) => averageInTenMinutes switch
    {
        <= AcceptableInTenMinutes => AlarmLoad.VeryLikelyAcceptable,
        <= ManageableInTenMinutes => AlarmLoad.Manageable,
        <= UnacceptableAboveInTenMinutes => AlarmLoad.LikelyOverDemanding,
        _ => AlarmLoad.VeryLikelyUnacceptable,
    };

    /// <summary>Grade of the most annunciations in 10 min.</summary>
    /// <param name="mostInTenMinutes">Annunciations, 0 or more.</param>
    public static UpsetLoad OfUpset(long mostInTenMinutes) => mostInTenMinutes switch
    {
        <= UpsetManageable => UpsetLoad.Manageable,
        <= UpsetExcessiveAbove => UpsetLoad.HardToCope,
        _ => UpsetLoad.Excessive,
    };
}
