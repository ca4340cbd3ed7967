using System.Net;
using System.Net.Sockets;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Modbus.Transports;

/// <summary>
/// A Modbus TCP server: one thread accepts, one thread serves each connection, all bounded by the options. The two
/// means to play a broken link are <see cref="Silent"/> and <see cref="DropConnections"/>.
/// </summary>
public sealed class TcpModbusServer : IDisposable
{
    private const int AcceptSliceMs = 50;
    private const int Backlog = 128; // a full queue would cost a client a second until its SYN is sent again
    private const int JoinMs = 5_000;
    private const int ConnectionStackBytes = 256 * 1024;

    private readonly IPEndPoint _endPoint;
    private readonly IReadOnlyDictionary<byte, IModbusDevice> _devices;
    private readonly TcpModbusServerOptions _options;
    private readonly List<TcpServerConnection> _connections = [];
    private readonly Lock _gate = new();
    private Socket? _listener;
    private Thread? _acceptThread;
    private volatile bool _isStopping;
    private volatile bool _silent;

    /// <summary>Makes a server; nothing is opened before <see cref="Start"/>.</summary>
    /// <param name="endPoint">Address and port to listen on; port 0 takes a free one.</param>
    /// <param name="devices">The devices by unit id; not to be changed afterwards.</param>
    /// <param name="options">Limits; null for the defaults.</param>
    public TcpModbusServer(IPEndPoint endPoint, IReadOnlyDictionary<byte, IModbusDevice> devices, TcpModbusServerOptions? options = null)
    {
        _endPoint = endPoint;
        _devices = devices;
        _options = options ?? new TcpModbusServerOptions();
        _options.Validate();
    }

    /// <summary>While true, requests are read and discarded: neither carried out nor answered.</summary>
    public bool Silent
    {
        get => _silent;
        set => _silent = value;
    }

    /// <summary>The port bound by <see cref="Start"/>; 0 before the first start.</summary>
    public int Port { get; private set; }

    /// <summary>Connections open now.</summary>
    public int ConnectionCount
    {
        get
        {
            lock (_gate)
            {
                return _connections.Count;
            }
        }
    }

    /// <summary>What the server has seen so far; may be read from any thread.</summary>
    public ServerCounters Counters => Tally.Snapshot();

    internal ServerTally Tally { get; } = new();

    /// <summary>Binds and begins to serve; throws <see cref="SocketException"/> when the port is taken.</summary>
    public void Start()
    {
        if (_listener is not null)
        {
            throw new InvalidOperationException("The server runs already.");
        }

        Socket listener = new(_endPoint.AddressFamily, SocketType.Stream, ProtocolType.Tcp);
        try
        {
            listener.Bind(new IPEndPoint(_endPoint.Address, Port != 0 ? Port : _endPoint.Port));
            listener.Listen(Backlog);
            listener.ReceiveTimeout = AcceptSliceMs; // of accept too (socket(7)): a client that gave up must not hold the thread
        }
        catch
        {
            listener.Dispose();
            throw;
        }

        Port = ((IPEndPoint)listener.LocalEndPoint!).Port;
        _isStopping = false;
        _listener = listener;
        _acceptThread = new Thread(() => AcceptLoop(listener)) { IsBackground = true, Name = "modbus accept" };
        _acceptThread.Start();
    }

    /// <summary>Stops listening and closes all connections; <see cref="Start"/> takes the same port again.</summary>
    public void Stop()
    {
        Socket? listener = _listener;
        if (listener is null)
        {
            return;
        }

        _isStopping = true;
        _acceptThread!.Join(JoinMs);
        listener.Dispose();
        _listener = null;
        DropConnections();
        SpinWait.SpinUntil(() => ConnectionCount == 0, JoinMs);
    }

    /// <summary>Closes all connections now; new ones are taken as before.</summary>
    public void DropConnections()
    {
        TcpServerConnection[] open;
        lock (_gate)
        {
            open = [.. _connections];
        }

        foreach (TcpServerConnection connection in open)
        {
            connection.Abort();
        }
    }

    /// <inheritdoc/>
    public void Dispose() => Stop();

    internal void Remove(TcpServerConnection connection)
    {
        lock (_gate)
        {
            _connections.Remove(connection);
        }
    }

    private void AcceptLoop(Socket listener)
    {
        while (!_isStopping)
        {
            try
            {
                if (listener.Poll(AcceptSliceMs * 1000, SelectMode.SelectRead))
                {
                    Take(listener.Accept());
                }
            }
            catch (SocketException)
            {
                // The client gave up before it was accepted, or descriptors are short for now: go on, but do not spin.
                Thread.Sleep(1);
            }
        }
    }

    private void Take(Socket socket)
    {
        if (ConnectionCount >= _options.MaxConnections)
        {
            Tally.ConnectionRefused();
            socket.Dispose();
            return;
        }

        socket.NoDelay = true;
        ModbusServerEngine engine = _options.IsRtuOverTcp ? new RtuServerEngine(_devices) : new ServerEngine(_devices, _options.UnknownUnit);
        TcpServerConnection connection = new(this, _options, socket, engine);
        lock (_gate)
        {
            _connections.Add(connection);
        }

        Tally.ConnectionTaken();
        new Thread(connection.Run, ConnectionStackBytes) { IsBackground = true, Name = "modbus connection" }.Start();
    }
}
