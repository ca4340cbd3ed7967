using EdgeGuard.OpcUa;
using EdgeGuard.Publication.Hosting;
using EdgeGuard.Publication.Tests.Rigs;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Publication.Tests.Proof;

/// <summary>
/// A client with one session that reads a value ten times a second, whatever others do to the server. A connection that
/// breaks fails it; how slow the slowest answer was, how old its value was and whether it was good are figures.
/// </summary>
internal sealed class HonestReader : IDisposable
{
    private const int PauseMs = 100;

    private readonly SoakClient _client;
    private readonly Thread _thread;
    private Exception? _failure;
    private long _worstMs;
    private bool _wasBad;
    private volatile int _answers;
    private volatile bool _ends;

    public HonestReader(int port)
    {
        _client = new SoakClient(port, FreshValue.From, sessionTimeoutMs: 60_000);
        _thread = new Thread(Run) { IsBackground = true, Name = "honest reader" };
        _thread.Start();
    }

    /// <summary>Waits until it has been served twice; that it is not, or too late, shows at its end.</summary>
    public void AwaitServed() => SpinWait.SpinUntil(() => _answers > 1 || _failure is not null, 60_000);

    /// <summary>Ends in order. The slowest answer or the greatest age of a value when it was asked for, whichever is more, ms; beyond all limits when a value was not good.</summary>
    public long End()
    {
        _ends = true;
        _thread.Join();
        Assert.Null(_failure);
        Assert.True(_answers > 1, "the client was hardly served");
        return _wasBad ? int.MaxValue : _worstMs;
    }

    public void Dispose()
    {
        _ends = true;
        _thread.Join();
        _client.Dispose();
    }

    private void Run()
    {
        ParentProcess.YieldToGuard(); // it stands for a client on another machine: its own work must not count
        try
        {
            for (; !_ends; Thread.Sleep(PauseMs))
            {
                ReadOne();
            }

            _client.Close();
        }
        catch (Exception e)
        {
            _failure = e;
        }
    }

    private void ReadOne()
    {
        DateTime askedUtc = HostClock.Now.Utc.ToUtc();
        long start = Environment.TickCount64;
        DataValue value = _client.Read(FreshValue.Node);
        long ageMs = (long)(askedUtc - value.SourceTimestamp.ToUtc()).TotalMilliseconds;
        _worstMs = Math.Max(_worstMs, Math.Max(Environment.TickCount64 - start, ageMs));
        _wasBad |= value.Status != StatusCode.Good;
        _answers++;
    }
}
