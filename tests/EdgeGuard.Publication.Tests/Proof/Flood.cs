using System.Net;
using System.Net.Sockets;
using EdgeGuard.Publication.Tests.Rigs;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Publication.Tests.Proof;

/// <summary>A thousand connections that say nothing or nonsense, renewed as they are cut off, and a subscriber that takes all there is and never reads.</summary>
internal sealed class Flood : IDisposable
{
    private const int HalfOpen = 1_000;

    private readonly List<Socket> _sockets = [];
    private readonly SoakClient _greedy;
    private readonly Thread _thread;
    private volatile bool _ends;
    private bool _greedyIsCut;

    public Flood(int port)
    {
        _greedy = new SoakClient(port, "127.0.0.3", 60_000);
        for (int i = 0; i < 5; i++)
        {
            _greedy.Monitor(50, 100, [.. Enumerable.Repeat(FreshValue.Node, 100)]);
        }

        _thread = new Thread(() => Run(port)) { IsBackground = true };
        _thread.Start();
    }

    public void Dispose()
    {
        _ends = true;
        _thread.Join();
        _sockets.ForEach(static s => s.Dispose());
        _greedy.Dispose();
    }

    // Once it is cut off for not reading it asks no more.
    private void AskMore()
    {
        if (_greedyIsCut)
        {
            return;
        }

        try
        {
            _greedy.Publish();
        }
        catch (SocketException)
        {
            _greedyIsCut = true;
        }
    }

    private void Run(int port)
    {
        const int PauseMs = 2;
        ParentProcess.YieldToGuard(); // a flood comes from another machine: its own work must not count
        var random = new Random(5);
        byte[] garbage = new byte[256];
        for (int i = 0; !_ends; i++)
        {
            var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
            _sockets.Add(socket);
            try
            {
                socket.Connect(new IPEndPoint(IPAddress.Loopback, port));
                random.NextBytes(garbage);
                if (i % 3 == 0)
                {
                    socket.Send(garbage);
                }

                AskMore();
            }
            catch (SocketException)
            {
                // Cut off, which is the server's right.
            }

            if (_sockets.Count > HalfOpen)
            {
                _sockets[0].Dispose();
                _sockets.RemoveAt(0);
            }

            Thread.Sleep(PauseMs);
        }
    }
}
