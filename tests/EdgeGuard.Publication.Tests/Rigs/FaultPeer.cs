using System.Net;
using System.Net.Sockets;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>A cabinet and its meter behind one port that answer well, but for the one request that a test gives a fault to. One client at a time.</summary>
internal sealed class FaultPeer : IDisposable
{
    private const int PauseMs = 30; // between pieces, so that the other side takes them one by one
    private readonly bool _isRtu;
    private readonly Thread _thread;
    private Socket _listener;
    private WireFault? _next;
    private int _rejects;
    private volatile bool _stopped;

    public FaultPeer(bool isRtu)
    {
        _isRtu = isRtu;
        _listener = Listen(0);
        Port = ((IPEndPoint)_listener.LocalEndPoint!).Port;
        _thread = new Thread(Run) { IsBackground = true, Name = "fault peer" };
        _thread.Start();
    }

    public int Port { get; }

    /// <summary>True when the fault given last has happened.</summary>
    public bool HasHappened => Volatile.Read(ref _next) is null;

    public void Give(WireFault fault) => Volatile.Write(ref _next, fault);

    /// <summary>Nothing listens for a while: connections are refused.</summary>
    public void GoAway(int ms)
    {
        _listener.Dispose();
        Thread.Sleep(ms);
        _listener = Listen(Port);
    }

    public void Dispose()
    {
        _stopped = true;
        _listener.Dispose();
        _thread.Join(5_000);
    }

    private static Socket Listen(int port)
    {
        var listener = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        listener.Bind(new IPEndPoint(IPAddress.Loopback, port));
        listener.Listen(1);
        return listener;
    }

    private void Run()
    {
        while (!_stopped)
        {
            try
            {
                using Socket socket = _listener.Accept();
                socket.NoDelay = true;
                socket.ReceiveTimeout = 5_000;
                if (_rejects > 0)
                {
                    _rejects--;
                    continue;
                }

                Serve(socket);
            }
            catch (Exception e) when (e is SocketException or ObjectDisposedException)
            {
                Thread.Sleep(5); // the guard has closed, or nobody listens for a while
            }
        }
    }

    private void Serve(Socket socket)
    {
        var devices = new Dictionary<byte, IModbusDevice> { [1] = new StubbornDevice(), [2] = StillDevice.Meter() };
        ModbusServerEngine engine = _isRtu ? new RtuServerEngine(devices) : new ServerEngine(devices);
        byte[] received = new byte[512];
        byte[] output = new byte[engine.OutputLength];
        byte[] before = [];
        for (int have = 0; ;)
        {
            int got = socket.Receive(received, have, received.Length - have, SocketFlags.None);
            if (got == 0)
            {
                return;
            }

            have += got;
            engine.Process(received.AsSpan(0, have), output, out int consumed, out int produced);
            if (consumed == 0)
            {
                continue;
            }

            byte[] answer = output[..produced];
            if (!Answer(socket, received[..consumed], answer, before))
            {
                return;
            }

            before = answer;
            received.AsSpan(consumed, have - consumed).CopyTo(received);
            have -= consumed;
        }
    }

    /// <summary>False when the connection is to be closed.</summary>
    private bool Answer(Socket socket, byte[] request, byte[] answer, byte[] before)
    {
        WireFault? fault = Volatile.Read(ref _next);
        int at = _isRtu ? 0 : 6;
        if (fault is null || before.Length == 0 || fault.Befalls != (request[at], request[at + 1]))
        {
            socket.Send(answer);
            return true;
        }

        _rejects = fault.ThenRejects;
        byte[][]? pieces = fault.Pieces(answer, before);
        foreach (byte[] piece in pieces ?? [])
        {
            socket.Send(piece);
            Thread.Sleep(PauseMs);
        }

        Volatile.Write(ref _next, null);
        return pieces is not null;
    }
}
