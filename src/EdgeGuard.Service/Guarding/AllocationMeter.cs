namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Watches that the process allocates nothing in steady state: the exact figure every ten seconds, because the running
/// one is only brought up to date when a thread takes a new piece of heap. Ticked by the supervising thread each second.
/// </summary>
internal sealed class AllocationMeter
{
    private const int TicksPerSample = 10;
    private const int SamplesPerMinute = 6;

    private readonly long[] _samples = new long[SamplesPerMinute + 1];
    private long _lastMinute = -1;
    private int _count;
    private int _ticks;

    /// <summary>Bytes allocated by the whole process in the latest minute; null before there was one.</summary>
    public long? LastMinuteBytes => Volatile.Read(ref _lastMinute) is var bytes and >= 0 ? bytes : null;

    public void Tick()
    {
        if (++_ticks < TicksPerSample)
        {
            return;
        }

        _ticks = 0;
        long now = GC.GetTotalAllocatedBytes(precise: true);
        long minuteAgo = _samples[(_count + 1) % _samples.Length];
        _samples[_count % _samples.Length] = now;
        _count++;
        if (_count > SamplesPerMinute)
        {
            Volatile.Write(ref _lastMinute, now - minuteAgo);
        }
    }
}
