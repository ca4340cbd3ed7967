namespace EdgeGuard.Core.Alarms;

/// <summary>How the number of annunciations in the 10 min after an upset is to be taken, in the words of EEMUA 191.</summary>
public enum UpsetLoad : byte
{
    /// <summary>More than 100: definitely excessive; people very likely stop using the alarms.</summary>
    Excessive = 0,

    /// <summary>More than 10, up to 100: hard to cope with. The guide says 20 to 100; what lies between is counted here.</summary>
    HardToCope = 1,

    /// <summary>At most 10: should be manageable.</summary>
    Manageable = 2,
}
