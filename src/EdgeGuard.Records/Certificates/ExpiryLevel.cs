namespace EdgeGuard.Records.Certificates;

/// <summary>Alarm levels of a certificate that is about to expire; the zero value is the worst.</summary>
public enum ExpiryLevel
{
    /// <summary>It has expired.</summary>
    Expired,

    /// <summary>At most 7 days are left.</summary>
    Within7Days,

    /// <summary>At most 30 days are left.</summary>
    Within30Days,

    /// <summary>At most 90 days are left.</summary>
    Within90Days,

    /// <summary>More than 90 days are left.</summary>
    None,
}
