using System.Net;
using System.Net.Sockets;
using System.Text;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Acceptance.Tests.RealTime;

/// <summary>
/// Throws bytes at a port: pure chance, good messages with a few bytes changed, far too long ones, cut ones, and
/// connections left half open. Deterministic by its seed.
/// </summary>
internal sealed class HostileClient(int seed)
{
    // One in this many inputs stays open without an end; the doors limit how long and how many.
    private const int HalfOpenEach = 100;
    private const int HalfOpenKept = 4;
    private const int OversizedEach = 50;
    private const int OversizedBytes = 1 << 20;
    private const int PatienceMs = 60_000;

    private static readonly byte[][] Requests =
    [
        Encoding.UTF8.GetBytes("{\"kind\":\"status\"}\n"),
        Encoding.UTF8.GetBytes("{\"kind\":\"acknowledge\",\"unit\":\"N-1\",\"reason\":\"hostile\"}\n"),
        Encoding.UTF8.GetBytes("{\"kind\":\"start\",\"unit\":\"N-1\",\"reason\":\"hostile\",\"person\":\"nobody\"}\n"),
    ];

    // Reads only, with the function code last to be mutated away from: a write that happens to be valid would be an act of a
    // second client on the cabinet and no hostile input.
    private static readonly byte[][] Frames =
    [
        [0, 1, 0, 0, 0, 6, 1, 3, 0, 0, 0, 9],
        [0, 2, 0, 0, 0, 6, 1, 4, 0, 0, 0, 12],
        [0, 3, 0, 0, 0, 6, 2, 4, 0, 0, 0, 5],
    ];

    private const int FunctionAt = 7;

    private readonly Random _random = new(seed);
    private readonly Queue<Socket> _halfOpen = new();

    /// <summary>Inputs at the request socket; how many were taken (connected and sent or refused).</summary>
    public int AtRequestSocket(string dataFolder, int count)
    {
        var end = new UnixDomainSocketEndPoint(RequestClient.SocketPath(dataFolder));
        return Throw(count, () => new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified), end, () => Mutated(Requests, stopAt: null));
    }

    /// <summary>Inputs at a Modbus port.</summary>
    public int AtModbusPort(int port, int count)
    {
        var end = new IPEndPoint(IPAddress.Loopback, port);
        return Throw(count, () => new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp), end, () => Mutated(Frames, stopAt: FunctionAt));
    }

    private int Throw(int count, Func<Socket> open, EndPoint end, Func<byte[]> mutated)
    {
        int taken = 0;
        for (int i = 0; i < count; i++)
        {
            Socket socket = open();
            socket.SendTimeout = PatienceMs;
            socket.ReceiveTimeout = PatienceMs;
            socket.Connect(end);
            bool halfOpen = i % HalfOpenEach == 0;
            Send(socket, i % OversizedEach == 1 ? Chance(OversizedBytes) : i % 2 == 0 ? mutated() : Chance(_random.Next(1, 600)), cut: halfOpen);
            Leave(socket, halfOpen);
            taken++;
        }

        while (_halfOpen.TryDequeue(out Socket? left))
        {
            left.Dispose();
        }

        return taken;
    }

    private static void Send(Socket socket, byte[] bytes, bool cut)
    {
        try
        {
            socket.Send(bytes, 0, cut ? bytes.Length / 2 : bytes.Length, SocketFlags.None);
        }
        catch (SocketException)
        {
            // The door closed before it had all: its right.
        }
    }

    private void Leave(Socket socket, bool halfOpen)
    {
        if (!halfOpen)
        {
            WaitForAnswerOrEnd(socket);
            socket.Dispose();
            return;
        }

        _halfOpen.Enqueue(socket);
        if (_halfOpen.Count > HalfOpenKept)
        {
            _halfOpen.Dequeue().Dispose();
        }
    }

    // Every second connection looks at the answer; the others go away in the middle of it.
    private void WaitForAnswerOrEnd(Socket socket)
    {
        if (_random.Next(2) == 0)
        {
            return;
        }

        try
        {
            socket.Shutdown(SocketShutdown.Send);
            Span<byte> answer = stackalloc byte[4096];
            while (socket.Receive(answer) > 0)
            {
                // Whatever it says: there is an end to it.
            }
        }
        catch (SocketException e) when (e.SocketErrorCode != SocketError.TimedOut)
        {
            // Closed on us.
        }
    }

    private byte[] Chance(int length)
    {
        byte[] bytes = new byte[length];
        _random.NextBytes(bytes);
        return bytes;
    }

    private byte[] Mutated(byte[][] samples, int? stopAt)
    {
        byte[] bytes = [.. samples[_random.Next(samples.Length)]];
        for (int i = _random.Next(4); i >= 0; i--)
        {
            int at = _random.Next(bytes.Length);
            bytes[at] = at == stopAt ? bytes[at] : (byte)_random.Next(256);
        }

        return bytes;
    }
}
