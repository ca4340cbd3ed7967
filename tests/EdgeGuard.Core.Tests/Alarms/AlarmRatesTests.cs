using CsCheck;
using EdgeGuard.Core.Alarms;

namespace EdgeGuard.Core.Tests.Alarms;

public sealed class AlarmRatesTests
{
    private const int ScanMs = 1_000;

    // EEMUA 191: more than 10 in 10 min is a flood; over below 5 (both from memory).
    [Trait("requirement", "ALRM-4")]
    [Fact]
    public void More_than_ten_in_ten_minutes_is_a_flood_until_fewer_than_five()
    {
        var rates = new AlarmRates(ScanMs);
        for (int scan = 0; scan < 110; scan++)
        {
            rates.Step(scan);
            if (scan % 10 == 0)
            {
                rates.Annunciated(AlarmPriority.Low);
                Assert.Equal(scan / 10 >= 10, rates.InFlood);
            }
        }

        Assert.Equal(11, rates.InTenMinutes);
        Assert.Equal(1, rates.Floods);
        int over = 110;
        for (; rates.InFlood && over < 2_000; over++)
        {
            rates.Step(over);
        }

        // The seventh of eleven, at 60 s, leaves the window: four are left.
        Assert.Equal(4, rates.InTenMinutes);
        Assert.Equal(661, over, 10.0);
        Assert.Equal(100.0 * (over - 101) / over, rates.FloodPercent, 0.5);
        Assert.Equal(11, rates.MostInTenMinutes);
    }

    // Eleven in scan 0, the next scan is number 100: all of that time was flood.
    [Fact]
    public void Skipped_scans_count_as_time_in_flood()
    {
        var rates = new AlarmRates(ScanMs);
        rates.Step(0);
        for (int i = 0; i <= AlarmRates.FloodAbove; i++)
        {
            rates.Annunciated(AlarmPriority.Low);
        }

        rates.Step(100);
        Assert.Equal(101, rates.Scans);
        Assert.Equal(100.0 * 100 / 101, rates.FloodPercent, 1e-9);
    }

    [Fact]
    public void Ten_in_ten_minutes_are_none()
    {
        var rates = new AlarmRates(ScanMs);
        for (int scan = 0; scan < 6_000; scan++)
        {
            rates.Step(scan);
            if (scan % 60 == 0)
            {
                rates.Annunciated(AlarmPriority.Low);
            }
        }

        Assert.Equal(0, rates.Floods);
        Assert.Equal(10, rates.MostInTenMinutes);
        Assert.Equal(10, rates.AverageInTenMinutes, 1e-9);
    }

    // 150 a day is about 1 in 10 min (EEMUA 191).
    [Fact]
    public void A_hundred_and_fifty_a_day_is_about_one_in_ten_minutes()
    {
        var rates = new AlarmRates(ScanMs);
        for (int scan = 0; scan < 86_400; scan++)
        {
            rates.Step(scan);
            if (scan % 576 == 0)
            {
                rates.Annunciated((AlarmPriority)(scan % 3));
            }
        }

        Assert.Equal(150, rates.Total);
        Assert.Equal(1.04, rates.AverageInTenMinutes, 0.01);
        Assert.Equal(0, rates.FloodPercent);
        Assert.Equal(100, rates.PriorityPercent(AlarmPriority.High) + rates.PriorityPercent(AlarmPriority.Medium) + rates.PriorityPercent(AlarmPriority.Low), 1e-9);
    }

    // Against counting the times themselves, gaps of skipped scans included.
    [Fact]
    public void The_window_holds_what_happened_in_the_last_ten_minutes()
    {
        Gen.Int[1, 400].Array[1, 100].Sample(gaps =>
        {
            var rates = new AlarmRates(ScanMs);
            var times = new List<long>();
            long scan = 0;
            foreach (int gap in gaps)
            {
                scan += gap;
                rates.Step(scan);
                rates.Annunciated(AlarmPriority.Medium);
                times.Add(scan);
                int most = times.Count(t => scan - t < 600);
                int least = times.Count(t => scan - t < 590);
                Assert.InRange(rates.InTenMinutes, least, most);
            }
        });
    }

    [Theory]
    [InlineData(0)]
    [InlineData(10_001)]
    public void A_scan_period_that_makes_no_bucket_is_refused(int scanMs) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new AlarmRates(scanMs));

    [Fact]
    public void Before_anything_there_is_nothing()
    {
        var rates = new AlarmRates(ScanMs);
        Assert.Equal(0, rates.FloodPercent);
        Assert.Equal(0, rates.AverageInTenMinutes);
        Assert.Equal(0, rates.PriorityPercent(AlarmPriority.High));
    }
}
