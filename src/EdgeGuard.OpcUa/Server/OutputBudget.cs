namespace EdgeGuard.OpcUa.Server;

/// <summary>What waits to be sent on all connections together; see <see cref="ServerLimits.OutputBytesMax"/>.</summary>
internal sealed class OutputBudget(long bytesMax)
{
    /// <summary>Less than this on a connection is not counted.</summary>
    public const int SmallBytes = 32_768;

    private long _bytes;

    /// <summary>Bytes counted.</summary>
    public long Bytes => Volatile.Read(ref _bytes);

    /// <summary>Whether it is more than may be.</summary>
    public bool IsOver => Bytes > bytesMax;

    public void Add(long bytes) => Interlocked.Add(ref _bytes, bytes);
}
