using EdgeGuard.Records.Certificates;

namespace EdgeGuard.Records.Tests.Certificates;

public sealed class CertificateExpiryTests
{
    private static readonly DateTime Now = new(2026, 6, 30, 15, 0, 0, DateTimeKind.Utc);

    [Theory]
    [InlineData(91 * 86_400, ExpiryLevel.None, 91)]
    [InlineData((90 * 86_400) + 1, ExpiryLevel.None, 90)]
    [InlineData(90 * 86_400, ExpiryLevel.Within90Days, 90)]
    [InlineData((30 * 86_400) + 1, ExpiryLevel.Within90Days, 30)]
    [InlineData(30 * 86_400, ExpiryLevel.Within30Days, 30)]
    [InlineData((7 * 86_400) + 1, ExpiryLevel.Within30Days, 7)]
    [InlineData(7 * 86_400, ExpiryLevel.Within7Days, 7)]
    [InlineData(0, ExpiryLevel.Within7Days, 0)]
    [InlineData(-1, ExpiryLevel.Expired, -1)]
    public void Levels_begin_at_90_30_and_7_days(int secondsLeft, ExpiryLevel level, int days)
    {
        DateTime end = Now.AddSeconds(secondsLeft);
        Assert.Equal(level, CertificateExpiry.Level(end, Now));
        Assert.Equal(days, CertificateExpiry.DaysLeft(end, Now));
    }

    [Theory]
    [InlineData(100, "100 days left")]
    [InlineData(90, "90 DAYS LEFT")]
    [InlineData(1, "1 DAY LEFT")]
    [InlineData(-3, "EXPIRED 3 days ago")]
    public void The_time_left_is_shouted_once_it_is_told(int days, string words) =>
        Assert.Equal(words, CertificateExpiry.Words(Now.AddDays(days), Now));

    [Fact]
    public void The_zero_value_is_the_worst() => Assert.Equal(ExpiryLevel.Expired, default);
}
