using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>Time that a test moves by hand.</summary>
internal sealed class ManualClock : FieldClock
{
    private long _nowUs = 1_000_000;

    public override long NowUs => Volatile.Read(ref _nowUs);

    public void AdvanceMs(int ms) => Interlocked.Add(ref _nowUs, ms * 1000L);
}
