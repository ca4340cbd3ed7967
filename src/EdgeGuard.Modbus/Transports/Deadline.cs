using System.Diagnostics;

namespace EdgeGuard.Modbus.Transports;

/// <summary>A point on the monotonic clock; the bound of a whole transaction, however many waits it takes.</summary>
internal readonly struct Deadline
{
    private readonly long _ticks;

    private Deadline(long ticks) => _ticks = ticks;

    /// <summary>The point <paramref name="delayMs"/> from now.</summary>
    public static Deadline After(int delayMs) =>
        new(Stopwatch.GetTimestamp() + (delayMs * Stopwatch.Frequency / 1000));

    /// <summary>The point itself, in ticks of the monotonic clock.</summary>
    public long Ticks => _ticks;

    /// <summary>The point that many ticks of the monotonic clock stand for.</summary>
    public static Deadline At(long ticks) => new(ticks);

    /// <summary>The earlier of two.</summary>
    public static Deadline Earlier(Deadline one, Deadline other) => one._ticks <= other._ticks ? one : other;

    /// <summary>Whole milliseconds left, rounded up; 0 when passed.</summary>
    public int RemainingMs()
    {
        long left = _ticks - Stopwatch.GetTimestamp();
        return left <= 0 ? 0 : (int)Math.Min(int.MaxValue, ((left * 1000) + Stopwatch.Frequency - 1) / Stopwatch.Frequency);
    }
}
