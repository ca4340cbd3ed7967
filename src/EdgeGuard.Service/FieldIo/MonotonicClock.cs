using System.Diagnostics;

namespace EdgeGuard.Service.FieldIo;

/// <summary>The machine's monotonic clock, the same one on which the scan thread sleeps.</summary>
public sealed class MonotonicClock : FieldClock
{
    private static readonly long TicksPerUs = Math.Max(1, Stopwatch.Frequency / 1_000_000);

    /// <inheritdoc/>
    public override long NowUs => Stopwatch.GetTimestamp() / TicksPerUs;
}
