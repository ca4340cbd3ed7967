using System.Net.Sockets;

namespace EdgeGuard.Service.Requests;

/// <summary>Receives one line within a length and a time, both for the whole line: a byte a second does not hold the door open.</summary>
internal static class LineReceiver
{
    /// <summary>Receives up to the first line feed or the end of the stream; the length without it, or −1 with a fault.</summary>
    public static int Receive(Socket client, Span<byte> buffer, int limitMs, out string fault)
    {
        fault = string.Empty;
        long deadline = Environment.TickCount64 + limitMs;
        int length = 0;
        while (length < buffer.Length)
        {
            int left = (int)Math.Max(0, deadline - Environment.TickCount64);
            if (left == 0 || !client.Poll(left * 1000, SelectMode.SelectRead))
            {
                fault = $"no complete line within {limitMs} ms; a request is one line that ends with a line feed";
                return -1;
            }

            int received = client.Receive(buffer[length..]);
            int end = buffer.Slice(length, received).IndexOf((byte)'\n');
            if (end >= 0 || received == 0)
            {
                return length + Math.Max(0, end);
            }

            length += received;
        }

        fault = $"more than {buffer.Length} bytes without a line feed; a request is one short line";
        return -1;
    }
}
