using System.Globalization;
using EdgeGuard.Records.Certificates;
using EdgeGuard.Publication.Pki;
using EdgeGuard.Publication.Tests.Rigs;

namespace EdgeGuard.Publication.Tests.Pki;

/// <summary>The end of the own certificate while the publisher runs, with a clock the test moves.</summary>
public sealed class CertificateWatchTests
{
    private static readonly DateTime End = new(2026, 6, 30, 15, 0, 0, DateTimeKind.Utc);
    private readonly ListLog _log = new();

    [Fact]
    public void Each_level_is_told_once_and_the_last_week_and_what_is_expired_with_each_new_day()
    {
        var watch = new CertificateWatch(End, _log);
        var told = new List<(DateTime At, int Days)>();
        for (DateTime now = End.AddDays(-100); now < End.AddDays(2); now = now.AddMinutes(1))
        {
            int before = _log.Lines.Count;
            watch.Look(now);
            if (_log.Lines.Count > before)
            {
                told.Add((now, CertificateExpiry.DaysLeft(End, now)));
            }
        }

        // 90 and 30 days to the minute; 7 days to the minute, then at midnight of each day; the expiry to the minute, then midnight again.
        DateTime[] midnights = [.. Enumerable.Range(24, 7).Select(static day => new DateTime(2026, 6, day, 0, 0, 0, DateTimeKind.Utc))];
        Assert.Equal(
            [End.AddDays(-90), End.AddDays(-30), End.AddDays(-7), .. midnights, End.AddMinutes(1), new DateTime(2026, 7, 1, 0, 0, 0, DateTimeKind.Utc), new DateTime(2026, 7, 2, 0, 0, 0, DateTimeKind.Utc)],
            told.Select(static t => t.At));
        Assert.Equal("the own certificate expires in 90 days, clients will refuse it then; try edgeguard certs renew, and trust the new one at the clients", _log.Lines.First());
        Assert.StartsWith("the own certificate has expired, clients refuse it", _log.Lines.Last(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_change_of_the_day_is_told_once_although_the_clock_is_set_back_over_midnight()
    {
        var watch = new CertificateWatch(End, _log);
        string[] times = ["2026-06-25 23:59", "2026-06-26 00:01", "2026-06-25 23:58", "2026-06-26 00:02", "2026-06-26 12:00", "2026-06-27 00:00"];
        int[] lines = [.. times.Select(t =>
        {
            Assert.Equal(ExpiryLevel.Within7Days, watch.Look(DateTime.Parse(t, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal)));
            return _log.Lines.Count;
        })];
        Assert.Equal([1, 2, 2, 2, 2, 3], lines);
    }

    [Fact]
    public void A_publisher_that_starts_late_tells_the_level_it_finds_at_once_and_a_good_certificate_is_not_told()
    {
        Assert.Equal(ExpiryLevel.None, new CertificateWatch(End, _log).Look(End.AddDays(-91)));
        Assert.Empty(_log.Lines);
        Assert.Equal(ExpiryLevel.Within30Days, new CertificateWatch(End, _log).Look(End.AddDays(-20)));
        Assert.Single(_log.Lines, static l => l.Contains("expires in 20 days", StringComparison.Ordinal));
    }
}
