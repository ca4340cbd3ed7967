namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Watches that the process allocates nothing in steady state: the exact figure once a minute, because the running one
/// is only brought up to date when a thread takes a new piece of heap. Ticked by the supervising thread each second.
/// </summary>
internal sealed class AllocationMeter
{
    private const int TicksPerMinute = 60;

    private long _begin = -1;
    private long _lastMinute = -1;
    private int _ticks;

    /// <summary>Bytes allocated by the whole process in the latest full minute; null before there was one.</summary>
    public long? LastMinuteBytes => Volatile.Read(ref _lastMinute) is var bytes and >= 0 ? bytes : null;

    public void Tick()
    {
        if (_ticks++ % TicksPerMinute != 0)
        {
            return;
        }

        long now = GC.GetTotalAllocatedBytes(precise: true);
        if (_begin >= 0)
        {
            Volatile.Write(ref _lastMinute, now - _begin);
        }

        _begin = now;
    }
}
