using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>How a lost link is taken up again: at once, then with growing, jittered, capped waits, until it is there or the guard stops.</summary>
public sealed class ReconnectPolicyTests
{
    private const int MinMs = 100;
    private const int MaxMs = 2_000;
    private const int Attempts = 60;

    private readonly FakeLink _link = new() { Refusing = true };
    private int _failed;

    [Fact]
    public void Waits_grow_up_to_the_cap_and_never_beyond_and_the_first_attempt_is_made_at_once()
    {
        double[] waits = Waits();
        Assert.Equal(Attempts, waits.Length);
        Assert.Equal(Attempts + 1, _link.Log.Count(l => l is "refused" or "connect"));
        // The jitter may shorten one of the first waits to nothing, once in ten thousand.
        Assert.All(waits, w => Assert.InRange(w, 0, MaxMs));
        Assert.InRange(waits[0], 0, 4 * MinMs);
        Assert.All(waits[20..], w => Assert.InRange(w, MaxMs / 2.0, MaxMs));
        Assert.True(waits[..3].Sum() < waits[20..23].Sum());
    }

    [Fact]
    public void A_hundred_links_do_not_knock_in_step()
    {
        double[] first = Waits();
        _link.Close();
        _link.Refusing = true;
        _failed = 0;
        double[] second = Waits();
        Assert.NotEqual(first[..5], second[..5]);
        Assert.True(first[..5].Distinct().Count() > 3, string.Join(' ', first[..5]));
    }

    [Fact]
    public void A_stop_ends_the_attempts()
    {
        using var stop = new CancellationTokenSource();
        ReconnectPolicy policy = Policy(new InstantTime(), _ =>
        {
            if (++_failed == 5)
            {
                stop.Cancel();
            }
        });
        Assert.ThrowsAny<OperationCanceledException>(() => policy.UntilConnected(Engine(), stop.Token));
        Assert.Equal(5, _failed);
    }

    private double[] Waits()
    {
        var time = new InstantTime();
        ReconnectPolicy policy = Policy(time, _ => _link.Refusing = ++_failed < Attempts);
        policy.UntilConnected(Engine(), CancellationToken.None);
        return [.. time.WaitsMs];
    }

    private LinkEngine Engine() => new(FieldTables.Link(), _link, new ManualClock());

    private static ReconnectPolicy Policy(TimeProvider time, Action<Exception> failed) =>
        new(FieldTables.Link() with { ReconnectMinMs = MinMs, ReconnectMaxMs = MaxMs }, time, failed);
}
