using System.Diagnostics;

namespace EdgeGuard.Modbus.Tests;

/// <summary>How tests judge time on a machine that may be busy, slow, or have one core.</summary>
internal static class Timed
{
    /// <summary>For what comes by itself, and long before: only a fault waits so long.</summary>
    public const int PatienceMs = 30_000;

    private const int TriesMax = 20;

    /// <summary>
    /// Never before its time, and at it: the machine may hold up one wake-up or the other, a fault of ours holds up each.
    /// So it is done again until one is in time.
    /// </summary>
    /// <param name="timeMs">When it has to end, ms after its begin.</param>
    /// <param name="slackMs">How much later it may end.</param>
    /// <param name="action">What is timed.</param>
    /// <param name="before">What it needs before, not timed.</param>
    public static void AssertEndsAt(int timeMs, int slackMs, Action action, Action? before = null)
    {
        var elapsedMs = new List<double>();
        do
        {
            Assert.True(elapsedMs.Count < TriesMax, $"later than {timeMs} + {slackMs} ms each time: {string.Join(", ", elapsedMs)}");
            before?.Invoke();
            long start = Stopwatch.GetTimestamp();
            action();
            elapsedMs.Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);
            Assert.True(elapsedMs[^1] >= timeMs - 1, $"early: {elapsedMs[^1]} ms in place of {timeMs} ms");
        }
        while (elapsedMs[^1] > timeMs + slackMs);
    }

    /// <summary>Waits until something has become true.</summary>
    public static void Await(Func<bool> condition, string what) => Assert.True(SpinWait.SpinUntil(condition, PatienceMs), $"not within {PatienceMs} ms: {what}");
}
