using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.OpcUa.Tests.Security;

public sealed class CertificateExpiryTests
{
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
        DateTime end = CertificateMaker.Now.AddSeconds(secondsLeft);
        Assert.Equal(level, CertificateExpiry.Level(end, CertificateMaker.Now));
        Assert.Equal(days, CertificateExpiry.DaysLeft(end, CertificateMaker.Now));
    }

    [Fact]
    public void The_zero_value_is_the_worst() => Assert.Equal(ExpiryLevel.Expired, default);
}
