using EdgeGuard.Modbus.Framing;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Modbus.Transports;

/// <summary>
/// A Modbus RTU server on a serial port: one thread that listens, answers for its own units and keeps still for all
/// others. A port that is lost (an adapter unplugged) is opened again once a second.
/// </summary>
public sealed class SerialModbusServer : IDisposable
{
    private const int ReadSliceMs = 100; // how soon Stop is noticed
    private const int ReopenMs = 1_000;
    private const int OpenMs = 1_000;
    private const int WriteMs = 1_000;
    private const int JoinMs = 5_000;
    private const int MinSilenceMs = 20; // an adapter on USB delivers in steps of up to 16 ms

    private readonly ISerialLine _line;
    private readonly RtuServerEngine _engine;
    private readonly ServerTally _tally = new();
    private readonly ReceiveWindow _window = new(1024);
    private readonly byte[] _output = new byte[RtuCodec.MaxFrameLength];
    private readonly int _silenceMs;
    private Thread? _thread;
    private volatile bool _isStopping;
    private volatile bool _silent;

    /// <summary>Makes a server; the port is not opened before <see cref="Start"/>.</summary>
    /// <param name="port">The port and its settings.</param>
    /// <param name="devices">The devices by unit id, 1 to 247; not to be changed afterwards.</param>
    public SerialModbusServer(SerialLineOptions port, IReadOnlyDictionary<byte, IModbusDevice> devices)
        : this(port, SerialLines.Create(port), devices)
    {
    }

    internal SerialModbusServer(SerialLineOptions port, ISerialLine line, IReadOnlyDictionary<byte, IModbusDevice> devices)
    {
        _line = line;
        _engine = new RtuServerEngine(devices);
        _silenceMs = Math.Max(MinSilenceMs, SerialTiming.T35Us(port.BaudRate) / 1000);
    }

    /// <summary>While true, requests are read and discarded: neither carried out nor answered.</summary>
    public bool Silent
    {
        get => _silent;
        set => _silent = value;
    }

    /// <summary>What the server has seen so far; may be read from any thread. A connection is an opening of the port.</summary>
    public ServerCounters Counters => _tally.Snapshot();

    /// <summary>Opens the port and begins to serve; throws <see cref="LinkOpenException"/>.</summary>
    public void Start()
    {
        if (_thread is not null)
        {
            throw new InvalidOperationException("The server runs already.");
        }

        _line.Open(OpenMs);
        _tally.ConnectionTaken();
        _isStopping = false;
        _thread = new Thread(Run) { IsBackground = true, Name = "modbus serial" };
        _thread.Start();
    }

    /// <summary>Stops serving and closes the port.</summary>
    public void Stop()
    {
        _isStopping = true;
        _thread?.Join(JoinMs);
        _thread = null;
        _line.Close();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Stop();
        _line.Dispose();
    }

    private void Run()
    {
        while (!_isStopping)
        {
            int count = _line.Read(_window.MakeRoom(), _window.Unread.IsEmpty ? ReadSliceMs : _silenceMs);
            if (count < 0)
            {
                Reopen();
            }
            else if (count > 0)
            {
                _window.Commit(count);
                AnswerAll();
            }
            else if (!_window.Unread.IsEmpty)
            {
                _engine.IsSilent = _silent;
                Send(_engine.ProcessSilence(_window.Unread, _output, out int produced), produced);
                _window.Clear();
            }
        }
    }

    private void AnswerAll()
    {
        while (!_window.Unread.IsEmpty)
        {
            _engine.IsSilent = _silent;
            ServerStatus status = _engine.Process(_window.Unread, _output, out int consumed, out int produced);
            _window.Consume(consumed);
            if (status == ServerStatus.NeedMore)
            {
                return;
            }

            Send(status, produced);
            if (status == ServerStatus.Broken)
            {
                _window.Clear();
            }
        }
    }

    private void Send(ServerStatus status, int produced)
    {
        _tally.Processed(status);
        if (produced > 0)
        {
            _line.Write(_output.AsSpan(0, produced), WriteMs);
        }
    }

    private void Reopen()
    {
        _line.Close();
        _window.Clear();
        Thread.Sleep(_isStopping ? 0 : ReopenMs);
        try
        {
            if (!_isStopping)
            {
                _line.Open(OpenMs);
                _tally.ConnectionTaken();
            }
        }
        catch (LinkOpenException)
        {
            // Not back yet; the next turn tries again.
        }
    }
}
