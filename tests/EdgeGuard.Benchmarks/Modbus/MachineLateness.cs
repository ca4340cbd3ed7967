using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Benchmarks.Modbus;

/// <summary>How late a thread wakes that does nothing but keep the time.</summary>
internal sealed class MachineLateness : IDisposable
{
    private readonly Thread _thread;
    private readonly int _periodMs;
    private volatile bool _isStopping;
    private int _phase;

    public MachineLateness(int periodMs, int phaseCount)
    {
        _periodMs = periodMs;
        Late = [.. Enumerable.Range(0, phaseCount).Select(static _ => new LatenessCount())];
        _thread = new Thread(Run) { IsBackground = true, Name = "machine lateness" };
        _thread.Start();
    }

    public LatenessCount[] Late { get; }

    public int Phase
    {
        set => Volatile.Write(ref _phase, value);
    }

    public void Dispose()
    {
        _isStopping = true;
        _thread.Join();
    }

    private void Run()
    {
        MonotonicClock clock = new();
        long due = clock.NowUs;
        while (!_isStopping)
        {
            due += _periodMs * 1000L;
            long waitUs = due - clock.NowUs;
            if (waitUs > 0)
            {
                Thread.Sleep((int)((waitUs + 999) / 1000)); // whole milliseconds, rounded up, as the workers wait
            }

            Late[Volatile.Read(ref _phase)].Note(Math.Max(0, clock.NowUs - due));
        }
    }
}
