using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.OpcUa.Tests.Security;

/// <summary>Times are those of an injected monotonic clock, ms.</summary>
public sealed class LoginThrottleTests
{
    private readonly LoginThrottle _throttle = new();

    [Fact]
    public void Five_wrong_attempts_are_free_and_each_further_one_doubles_the_wait_up_to_a_bound()
    {
        long now = 1000;
        long[] expected = [0, 0, 0, 0, 0, 1000, 2000, 4000, 8000, 16_000, 32_000, 64_000, 128_000, 256_000, 300_000, 300_000];
        foreach (long waitMs in expected)
        {
            _throttle.Wrong("10.0.0.9", "user" + now, now);
            Assert.Equal(waitMs, _throttle.WaitMs("10.0.0.9", "other", now));
            now += waitMs;
            Assert.Equal(0, _throttle.WaitMs("10.0.0.9", "other", now));
        }
    }

    [Fact]
    public void A_user_under_attack_from_many_addresses_waits_30_s_at_most()
    {
        for (int i = 0; i < 40; i++)
        {
            _throttle.Wrong($"10.0.0.{i}", "operator", 0);
        }

        Assert.Equal(30_000, _throttle.WaitMs("10.1.0.1", "operator", 0));
        Assert.Equal(1, _throttle.WaitMs("10.1.0.1", "operator", 29_999));
        Assert.Equal(0, _throttle.WaitMs("10.1.0.1", "operator", 30_000));
        Assert.Equal(0, _throttle.WaitMs("10.1.0.1", "engineer", 0));
    }

    [Fact]
    public void A_right_password_clears_its_user_and_not_the_address()
    {
        for (int i = 0; i < 6; i++)
        {
            _throttle.Wrong("10.0.0.9", "operator", 0);
        }

        _throttle.Right("operator");
        Assert.Equal(0, _throttle.WaitMs("10.0.0.8", "operator", 0));
        Assert.Equal(1000, _throttle.WaitMs("10.0.0.9", "operator", 0));
    }

    [Fact]
    public void All_is_forgotten_after_15_quiet_minutes()
    {
        for (int i = 0; i < 10; i++)
        {
            _throttle.Wrong("10.0.0.9", "operator", 0);
        }

        _throttle.Wrong("10.0.0.9", "operator", 899_999);
        Assert.Equal(32_000, _throttle.WaitMs("10.0.0.9", "x", 899_999));
        _throttle.Wrong("10.0.0.9", "operator", 899_999 + 900_000);
        Assert.Equal(0, _throttle.WaitMs("10.0.0.9", "operator", 899_999 + 900_000));
    }

    [Theory]
    [InlineData("2001:db8:1:2::1", "2001:db8:1:2:ffff::9", true)]
    [InlineData("2001:db8:1:2::1", "2001:db8:1:3::1", false)]
    [InlineData("::ffff:10.0.0.9", "10.0.0.9", true)]
    [InlineData("10.0.0.9", "10.0.0.8", false)]
    public void One_machine_is_one_address(string wrong, string asked, bool same)
    {
        for (int i = 0; i < 6; i++)
        {
            _throttle.Wrong(wrong, "u", 0);
        }

        Assert.Equal(same ? 1000 : 0, _throttle.WaitMs(asked, "other", 0));
    }

    [Fact]
    public void The_tables_are_bounded_and_whoever_waits_longest_is_remembered()
    {
        var table = new ThrottleTable(new LoginThrottleOptions { EntriesMax = 10 }, 60_000);
        for (int i = 0; i < 7; i++)
        {
            table.Wrong("guesser", 0);
        }

        for (int i = 0; i < 1000; i++)
        {
            table.Wrong("name " + i, 1);
        }

        Assert.Equal(10, table.Count);
        Assert.Equal(2000, table.WaitMs("guesser", 0));
    }
}
