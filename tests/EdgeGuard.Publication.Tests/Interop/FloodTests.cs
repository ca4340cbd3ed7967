using System.Net;
using System.Net.Sockets;
using System.Text.Json;
using EdgeGuard.Publication.Tests.Rigs;

namespace EdgeGuard.Publication.Tests.Interop;

/// <summary>A flood of connections that say nothing or nonsense: bounded, closed, and an honest client is served during it.</summary>
public sealed class FloodTests
{
    private const int Flood = 1000;

    [Fact]
    public void A_thousand_half_open_connections_and_garbage_leave_an_honest_client_served()
    {
        using var ring = new RingRig();
        ring.Start();
        ring.Scan();
        using PublicationHost host = HostRig.Start(ring);
        using var client = new NodeClient(ring.Folder);
        Assert.True(client.Connect(host.Port).GetProperty("ok").GetBoolean());
        var random = new Random(7);
        List<Socket> sockets = [];
        for (int i = 0; i < Flood; i++)
        {
            var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
            sockets.Add(socket);
            socket.Connect(new IPEndPoint(IPAddress.Loopback, host.Port));
            if (i % 3 == 0)
            {
                TrySend(socket, Garbage(random, i));
            }

            if (i % 100 == 0)
            {
                JsonElement value = client.Read("ns=2;s=N-1/State")[0];
                Assert.Equal(0u, value.GetProperty("status").GetUInt32());
            }
        }

        Assert.Equal(0u, client.Read("ns=2;s=N-1/State")[0].GetProperty("status").GetUInt32());

        // Before the 10 s after which a silent connection ends anyway: it is the bound that closed them.
        int open = 0;
        Assert.True(SpinWait.SpinUntil(() => (open = sockets.Count(IsOpen)) <= host.Server.Options.Limits.HalfOpenConnectionsMax + 50, 9_000), $"{open} connections are still open");
        sockets.ForEach(static s => s.Dispose());
    }

    // What the server said before it closed has to be read before the end can be seen.
    private static bool IsOpen(Socket socket)
    {
        byte[] buffer = new byte[256];
        try
        {
            while (socket.Available > 0)
            {
                socket.Receive(buffer);
            }

            return !socket.Poll(0, SelectMode.SelectRead);
        }
        catch (SocketException)
        {
            return false;
        }
    }

    private static void TrySend(Socket socket, byte[] bytes)
    {
        try
        {
            socket.Send(bytes);
        }
        catch (SocketException)
        {
            // Closed by the server already, which is what is wanted.
        }
    }

    // Random bytes, a chunk that declares 4 GiB, and a HEL that never ends.
    private static byte[] Garbage(Random random, int i)
    {
        byte[] bytes = new byte[64];
        random.NextBytes(bytes);
        if (i % 2 == 0)
        {
            "HELF"u8.CopyTo(bytes);
            bytes.AsSpan(4, 4).Fill(0xFF);
        }

        return bytes;
    }
}
