using System.Buffers.Binary;
using System.Net;
using System.Net.Sockets;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>The shortest proof that a server is there: a Hello answered by an Acknowledge (OPC 10000-6, 7.1.2.3 and 7.1.2.4).</summary>
internal static class TcpHello
{
    private const int AnswerMs = 1_000;

    /// <summary>A port that is free now.</summary>
    public static int FreePort()
    {
        using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        return ((IPEndPoint)socket.LocalEndPoint!).Port;
    }

    /// <summary>Whether a server answers now.</summary>
    public static bool IsAnswered(int port)
    {
        using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { ReceiveTimeout = AnswerMs };
        try
        {
            socket.Connect(new IPEndPoint(IPAddress.Loopback, port));
            socket.Send(Hello("opc.tcp://127.0.0.1"u8));
            byte[] answer = new byte[8];
            return socket.Receive(answer) == answer.Length && answer.AsSpan().StartsWith("ACKF"u8);
        }
        catch (SocketException)
        {
            return false;
        }
    }

    /// <summary>How long until a server answers, ms.</summary>
    public static long AwaitAnswer(int port, int limitMs)
    {
        long start = Environment.TickCount64;
        while (!IsAnswered(port))
        {
            Assert.True(Environment.TickCount64 - start < limitMs, $"no server on port {port} within {limitMs} ms");
            Thread.Sleep(10);
        }

        return Environment.TickCount64 - start;
    }

    /// <summary>How long until nobody answers, ms.</summary>
    public static long AwaitSilence(int port, int limitMs)
    {
        long start = Environment.TickCount64;
        while (IsAnswered(port))
        {
            Assert.True(Environment.TickCount64 - start < limitMs, $"there still is a server on port {port} after {limitMs} ms");
            Thread.Sleep(10);
        }

        return Environment.TickCount64 - start;
    }

    // Version 0, buffers of 64 KiB, no limits of message and chunks, then the URL.
    private static byte[] Hello(ReadOnlySpan<byte> url)
    {
        byte[] hello = new byte[32 + url.Length];
        "HELF"u8.CopyTo(hello);
        BinaryPrimitives.WriteInt32LittleEndian(hello.AsSpan(4), hello.Length);
        BinaryPrimitives.WriteInt32LittleEndian(hello.AsSpan(12), 65_536);
        BinaryPrimitives.WriteInt32LittleEndian(hello.AsSpan(16), 65_536);
        BinaryPrimitives.WriteInt32LittleEndian(hello.AsSpan(28), url.Length);
        url.CopyTo(hello.AsSpan(32));
        return hello;
    }
}
