using EdgeGuard.OpcUa;
using EdgeGuard.Publication.Hosting;
using EdgeGuard.Publication.Tests.Rigs;

namespace EdgeGuard.Publication.Tests.Proof;

/// <summary>
/// A client with one session that reads a value ten times a second, whatever others do to the server. Each answer must be
/// good and of a reading that is not older than a client would take for fresh; a connection that breaks fails it.
/// </summary>
internal sealed class HonestReader : IDisposable
{
    private const int PauseMs = 100;
    private static readonly TimeSpan AgeMax = TimeSpan.FromSeconds(2);

    private readonly SoakClient _client;
    private readonly Thread _thread;
    private Exception? _failure;
    private long _slowestMs;
    private int _answers;
    private volatile bool _ends;

    public HonestReader(int port)
    {
        _client = new SoakClient(port, FreshValue.From, sessionTimeoutMs: 60_000);
        _thread = new Thread(Run) { IsBackground = true, Name = "honest reader" };
        _thread.Start();
    }

    /// <summary>Ends in order; the slowest answer, ms.</summary>
    public long End()
    {
        _ends = true;
        _thread.Join();
        Assert.Null(_failure);
        Assert.True(_answers > 1, "the client was hardly served");
        return _slowestMs;
    }

    public void Dispose()
    {
        _ends = true;
        _thread.Join();
        _client.Dispose();
    }

    private void Run()
    {
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
        _slowestMs = Math.Max(_slowestMs, Environment.TickCount64 - start);
        _answers++;
        TimeSpan age = askedUtc - value.SourceTimestamp.ToUtc();
        if (value.Status != StatusCode.Good || age > AgeMax)
        {
            throw new InvalidOperationException($"{value.Status}, read {age.TotalMilliseconds} ms before it was asked for");
        }
    }
}
