namespace EdgeGuard.OpcUa.Security;

/// <summary>When a certificate's end is to be told.</summary>
public static class CertificateExpiry
{
    /// <summary>Whole days from now until the end; negative after it.</summary>
    public static int DaysLeft(DateTime notAfterUtc, DateTime utcNow) => (int)Math.Floor((notAfterUtc - utcNow).TotalDays);

    /// <summary>The alarm level.</summary>
    public static ExpiryLevel Level(DateTime notAfterUtc, DateTime utcNow) => (notAfterUtc - utcNow).TotalDays switch
    {
        < 0 => ExpiryLevel.Expired,
        <= 7 => ExpiryLevel.Within7Days,
        <= 30 => ExpiryLevel.Within30Days,
        <= 90 => ExpiryLevel.Within90Days,
        _ => ExpiryLevel.None,
    };
}
