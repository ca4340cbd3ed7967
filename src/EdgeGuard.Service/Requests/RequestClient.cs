using System.Net.Sockets;
using System.Text.Json;

namespace EdgeGuard.Service.Requests;

/// <summary>The other end of the request socket, for the command line.</summary>
public static class RequestClient
{
    private const int AnswerBytesMax = 4 << 20;

    /// <summary>Path of the socket in a data folder.</summary>
    public static string SocketPath(string dataFolder) => Path.Combine(dataFolder, RequestSocketFile.Name);

    /// <summary>Sends one request and receives the answer's line.</summary>
    /// <exception cref="SocketException">No guard listens, or it does not answer in time.</exception>
    public static byte[] Exchange(string dataFolder, RequestMessage message, int limitMs)
    {
        using var socket = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
        string path = SocketPath(dataFolder);
        RequestSocketFile.CheckLength(path);
        socket.ReceiveTimeout = limitMs;
        socket.SendTimeout = limitMs;
        socket.Connect(new UnixDomainSocketEndPoint(path));
        byte[] line = [.. JsonSerializer.SerializeToUtf8Bytes(message, RequestJson.Default.RequestMessage), (byte)'\n'];
        TrySend(socket, line);
        return ReceiveAll(socket);
    }

    // A guard that turns somebody away answers and closes without reading the line: its answer waits here all the same.
    private static void TrySend(Socket socket, byte[] line)
    {
        try
        {
            socket.Send(line);
        }
        catch (SocketException e) when (IsClosed(e))
        {
            // What was answered before is read next.
        }
    }

    private static byte[] ReceiveAll(Socket socket)
    {
        using var answer = new MemoryStream();
        Span<byte> buffer = stackalloc byte[4096];
        int received;
        while ((received = Receive(socket, buffer, answer.Length)) > 0 && answer.Length < AnswerBytesMax)
        {
            answer.Write(buffer[..received]);
        }

        return answer.ToArray();
    }

    // Bytes nobody read when the guard closed make the end of its answer a reset connection (unix(7)).
    private static int Receive(Socket socket, Span<byte> buffer, long answered)
    {
        try
        {
            return socket.Receive(buffer);
        }
        catch (SocketException e) when (answered > 0 && IsClosed(e))
        {
            return 0;
        }
    }

    private static bool IsClosed(SocketException e) => e.SocketErrorCode is SocketError.ConnectionReset or SocketError.Shutdown or SocketError.ConnectionAborted;
}
