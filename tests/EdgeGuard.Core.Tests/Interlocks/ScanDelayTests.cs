using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Core.Tests.Interlocks;

public sealed class ScanDelayTests
{
    [Trait("requirement", "DELY-1")]
    [Fact]
    public void Every_pattern_of_twelve_scans_agrees_with_a_naive_count()
    {
        for (int delay = 0; delay <= 4; delay++)
        {
            for (int pattern = 0; pattern < 1 << 12; pattern++)
            {
                var fast = default(ScanDelay);
                int standing = 0;
                for (int scan = 0; scan < 12; scan++)
                {
                    bool present = (pattern >> scan & 1) == 1;
                    standing = present ? standing + 1 : 0;
                    Assert.Equal(standing > delay, fast.Passed(present, scan, delay));
                    Assert.Equal(standing == 0 ? -1 : scan - standing + 1, fast.Since);
                }
            }
        }
    }

    [Trait("requirement", "DELY-1")]
    [Theory]
    [InlineData(0, 100, 0)]
    [InlineData(1, 100, 1)]
    [InlineData(500, 100, 5)]
    [InlineData(501, 100, 6)]
    [InlineData(500, 200, 3)]
    public void A_time_is_rounded_up_to_whole_scans(int timeMs, int scanMs, int scans) => Assert.Equal(scans, ScanDelay.Scans(timeMs, scanMs));
}
