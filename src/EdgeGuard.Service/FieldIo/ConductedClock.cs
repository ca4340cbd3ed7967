namespace EdgeGuard.Service.FieldIo;

/// <summary>Simulated time: stands still between two scans and is moved by whoever conducts them.</summary>
public sealed class ConductedClock : FieldClock
{
    private long _nowUs;

    /// <inheritdoc/>
    public override long NowUs => Volatile.Read(ref _nowUs);

    /// <summary>Moves the clock forward to <paramref name="nowUs"/>, µs.</summary>
    public void MoveTo(long nowUs)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(nowUs, _nowUs);
        Volatile.Write(ref _nowUs, nowUs);
    }
}
