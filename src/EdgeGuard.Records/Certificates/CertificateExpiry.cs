using System.Globalization;

namespace EdgeGuard.Records.Certificates;

/// <summary>When a certificate's end is to be told.</summary>
public static class CertificateExpiry
{
    /// <summary>Whole days from now until the end; negative after it.</summary>
    public static int DaysLeft(DateTime notAfterUtc, DateTime utcNow) => (int)Math.Floor((notAfterUtc - utcNow).TotalDays);

    /// <summary>The time left in words, in capitals once it is told.</summary>
    public static string Words(DateTime notAfterUtc, DateTime utcNow)
    {
        int days = DaysLeft(notAfterUtc, utcNow);
        string left = days.ToString(CultureInfo.InvariantCulture);
        return Level(notAfterUtc, utcNow) switch
        {
            ExpiryLevel.Expired => $"EXPIRED {(-days).ToString(CultureInfo.InvariantCulture)} days ago",
            ExpiryLevel.None => $"{left} days left",
            _ => $"{left} DAYS LEFT",
        };
    }

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
