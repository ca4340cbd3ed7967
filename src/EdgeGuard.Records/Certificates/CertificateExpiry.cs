using EdgeGuard.Records.Journal;

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
        return Level(notAfterUtc, utcNow) switch
        {
            ExpiryLevel.Expired => $"EXPIRED {Counted.Of(-days, "day")} ago",
            ExpiryLevel.None => $"{Counted.Of(days, "day")} left",
            _ => $"{Counted.Of(days, "DAY", "DAYS")} LEFT",
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
