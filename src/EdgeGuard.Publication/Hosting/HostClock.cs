using System.Diagnostics;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.Publication.Hosting;

/// <summary>The time for the engine: monotonic for everything that lasts, the wall clock for stamps only.</summary>
internal static class HostClock
{
    public static long MonotonicMs => Stopwatch.GetTimestamp() / (Stopwatch.Frequency / 1000);

    public static ChannelClock Now => new(MonotonicMs, UaDateTime.FromUtc(DateTime.UtcNow));
}
