using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace EdgeGuard.Interop.Tests;

/// <summary>
/// The traffic of one TCP port of loopback, recorded by dumpcap and decoded by tshark: a decoder nobody here wrote. A
/// program that is missing, or a right to capture, is a failure and never a skip.
/// </summary>
internal sealed class TrafficCapture : IDisposable
{
    private const int PatienceMs = 60_000;

    private readonly string _folder = Directory.CreateTempSubdirectory("edgeguard-capture").FullName;
    private readonly Process _capture;
    private readonly int _portNumber;
    private readonly string _port;
    private readonly string[] _decoder;

    private TrafficCapture(int port, params string[] decoder)
    {
        _portNumber = port;
        _port = port.ToString(CultureInfo.InvariantCulture);
        _decoder = decoder;
        _capture = PeerProcess.Start("dumpcap", "-q", "-i", "lo", "-f", "tcp port " + _port, "-w", Recording);

        // dumpcap writes the head of the file once it listens.
        long end = Environment.TickCount64 + PatienceMs;
        while (!(File.Exists(Recording) && new FileInfo(Recording).Length > 0))
        {
            Assert.False(_capture.HasExited, $"dumpcap cannot capture on loopback (it needs root or CAP_NET_RAW): {(_capture.HasExited ? _capture.StandardError.ReadToEnd() : string.Empty)}");
            Assert.True(Environment.TickCount64 < end, "dumpcap did not begin to capture");
            Thread.Sleep(20);
        }
    }

    private string Recording => Path.Combine(_folder, "traffic.pcapng");

    /// <summary>Modbus TCP on any port; without rpcap, which takes some of its bytes for its own.</summary>
    public static TrafficCapture Modbus(int port) =>
        new(port, "--disable-protocol", "rpcap", "-d", Decode(port, "mbtcp"), "-o", string.Create(CultureInfo.InvariantCulture, $"mbtcp.tcp.port:{port}"));

    /// <summary>RTU frames through TCP on any port, with their CRC verified.</summary>
    public static TrafficCapture ModbusRtu(int port) => new(port, "-d", Decode(port, "mbrtu"), "-o", "mbrtu.crc_verification:TRUE");

    /// <summary>OPC UA on any port.</summary>
    public static TrafficCapture OpcUa(int port) => new(port, "-d", Decode(port, "opcua"));

    /// <summary>Stops once everything sent until now is in the file.</summary>
    public void Stop()
    {
        // dumpcap writes what the kernel hands over, at intervals and in order: the file is complete when a connection of now, without a byte, is in it.
        byte[] mark = Mark();
        Assert.True(SpinWait.SpinUntil(() => Recorded().AsSpan().IndexOf(mark) >= 0, PatienceMs), "dumpcap did not record the last connection");
        Process.Start("/bin/kill", ["-INT", _capture.Id.ToString(CultureInfo.InvariantCulture)]).WaitForExit();
        Assert.True(_capture.WaitForExit(PatienceMs), "dumpcap did not stop");
    }

    /// <summary>The values of fields in every frame that passes a display filter; one line a frame.</summary>
    public string[] Fields(string filter, params string[] fields)
    {
        string[] columns = [.. fields.SelectMany(static f => (string[])["-e", f])];
        (int exitCode, string output, string errors) = PeerProcess.RunApart("tshark", ["-r", Recording, .. _decoder, "-Y", filter, "-T", "fields", .. columns]);
        Assert.True(exitCode == 0, errors);
        return output.Split('\n', StringSplitOptions.RemoveEmptyEntries);
    }

    // The ports of a connection's first segment, as they stand in its head (RFC 9293, 3.1): source, then destination.
    private byte[] Mark()
    {
        using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        socket.Connect(IPAddress.Loopback, _portNumber);
        int from = ((IPEndPoint)socket.LocalEndPoint!).Port;
        return [(byte)(from >> 8), (byte)(from & 0xFF), (byte)(_portNumber >> 8), (byte)(_portNumber & 0xFF)];
    }

    private byte[] Recorded()
    {
        Thread.Sleep(50);
        using var recording = new FileStream(Recording, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        byte[] bytes = new byte[recording.Length];
        recording.ReadExactly(bytes);
        return bytes;
    }

    public void Dispose()
    {
        if (!_capture.HasExited)
        {
            _capture.Kill();
        }

        _capture.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    private static string Decode(int port, string protocol) => string.Create(CultureInfo.InvariantCulture, $"tcp.port=={port},{protocol}");
}
