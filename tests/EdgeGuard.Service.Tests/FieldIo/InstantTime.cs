namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>A clock on which every wait is over at once; it keeps how long each was asked to be.</summary>
internal sealed class InstantTime : TimeProvider
{
    private readonly List<double> _waitsMs = [];
    private readonly Lock _gate = new();

    public IReadOnlyList<double> WaitsMs
    {
        get
        {
            lock (_gate)
            {
                return [.. _waitsMs];
            }
        }
    }

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        lock (_gate)
        {
            _waitsMs.Add(dueTime.TotalMilliseconds);
        }

        return System.CreateTimer(callback, state, TimeSpan.Zero, Timeout.InfiniteTimeSpan);
    }
}
