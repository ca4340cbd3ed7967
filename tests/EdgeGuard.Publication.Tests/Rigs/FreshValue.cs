using System.Net.Sockets;
using EdgeGuard.OpcUa;
using EdgeGuard.Publication.Hosting;
using EdgeGuard.Publication.Tests.Proof;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>
/// When a publisher is back for a client, which is more than that a port answers: a new connection, a session, and a value
/// of the plant that is good and was read from the device after the moment in question.
/// </summary>
internal static class FreshValue
{
    /// <summary>The value that is read.</summary>
    public const string Node = "N-1/OutletTemperature";

    /// <summary>Address of loopback that the reader comes from.</summary>
    public const string From = "127.0.0.2";

    private const int AnswerMs = 1_000;

    /// <summary>How long from now until a client reads a value of after now, ms.</summary>
    public static long Await(int port, int limitMs)
    {
        UaDateTime now = HostClock.Now.Utc;
        long start = Environment.TickCount64;
        while (!IsServed(port, now))
        {
            Assert.True(Environment.TickCount64 - start < limitMs, $"no fresh value on port {port} within {limitMs} ms");
            Thread.Sleep(10);
        }

        return Environment.TickCount64 - start;
    }

    private static bool IsServed(int port, UaDateTime after)
    {
        try
        {
            using var client = new SoakClient(port, From, timeoutMs: AnswerMs);
            DataValue value = client.Read(Node);
            client.Close();
            return value.Status == StatusCode.Good && value.SourceTimestamp > after;
        }
        catch (Exception e) when (e is SocketException or InvalidOperationException)
        {
            return false; // nobody listens, nobody answers, or the connection broke
        }
    }
}
