using System.Globalization;
using System.Net;
using System.Net.Sockets;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Interop.Tests.Modbus;

/// <summary>Every byte our client and our server exchange, decoded by tshark (of the Wireshark project, from the Debian archive).</summary>
public sealed class CapturedTrafficTests
{
    private const int TimeoutMs = 60_000;

    [Theory]
    [InlineData("tcp")]
    [InlineData("rtu-tcp")]
    public void A_session_with_every_function_is_decoded_without_a_malformed_frame(string transport)
    {
        using ForeignClientRig rig = new(new PeerDevice(), transport);
        int port = int.Parse(rig.Where, CultureInfo.InvariantCulture);
        using TrafficCapture capture = transport == "tcp" ? TrafficCapture.Modbus(port) : TrafficCapture.ModbusRtu(port);
        using (ModbusLink link = transport == "tcp" ? new TcpModbusLink(new IPEndPoint(IPAddress.Loopback, port)) : rig.RtuLink(new RtuLinkOptions()))
        {
            link.Connect(TimeoutMs);
            RunSession(link);
        }

        capture.Stop();
        Assert.Empty(capture.Fields("_ws.malformed", "frame.number", "_ws.malformed"));
        Assert.Empty(capture.Fields("_ws.expert.severity == error", "frame.number", "_ws.expert.message"));
        Assert.Empty(capture.Fields("mbrtu.crc16.incorrect", "frame.number"));
        string[] functions = capture.Fields("modbus", "modbus.func_code");
        Assert.Equal(
            ["1", "2", "3", "4", "5", "6", "7", "8", "15", "16", "22", "23", "43"],
            functions.Distinct().OrderBy(f => int.Parse(f, CultureInfo.InvariantCulture)));

        // The request of 07 in RTU has four bytes, fewer than this decoder takes for a frame.
        int undecoded = transport == "rtu-tcp" ? 1 : 0;
        Assert.All(functions.CountBy(f => f), f => Assert.True(f.Value % 2 == (f.Key == "7" ? undecoded : 0), $"function {f.Key}: {f.Value} frames, not a request and an answer each"));
        Assert.Equal(["2"], capture.Fields("modbus.exception_code", "modbus.exception_code"));
        Assert.Contains("21,22,23,24", string.Join(';', capture.Fields("modbus.func_code == 3", "modbus.regval_uint16")), StringComparison.Ordinal);
    }

    [Fact]
    public void The_decoder_would_tell_a_malformed_frame()
    {
        using ForeignClientRig rig = new(new PeerDevice(), "tcp");
        int port = int.Parse(rig.Where, CultureInfo.InvariantCulture);
        using TrafficCapture capture = TrafficCapture.Modbus(port);
        using (Socket socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp))
        {
            // A request of function 3 that ends after its address.
            socket.Connect(IPAddress.Loopback, port);
            socket.Send([0, 1, 0, 0, 0, 4, 1, 3, 0, 1]);
            socket.Receive(new byte[32]);
        }

        capture.Stop();
        Assert.NotEmpty(capture.Fields("_ws.malformed", "frame.number"));
    }

    [Fact]
    public void The_decoder_would_tell_a_wrong_CRC()
    {
        using ForeignClientRig rig = new(new PeerDevice(), "rtu-tcp");
        int port = int.Parse(rig.Where, CultureInfo.InvariantCulture);
        using TrafficCapture capture = TrafficCapture.ModbusRtu(port);
        using (Socket socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp))
        {
            socket.Connect(IPAddress.Loopback, port);
            socket.Send([1, 3, 0, 1, 0, 1, 0, 0]);
            capture.Stop();
        }

        Assert.NotEmpty(capture.Fields("mbrtu.crc16.incorrect", "frame.number"));
    }

    private static void RunSession(ModbusLink link)
    {
        ushort[] words = new ushort[4];
        bool[] isGood =
        [
            link.ReadBits(1, ModbusTable.Coils, 3, words, TimeoutMs).IsGood,
            link.ReadBits(1, ModbusTable.DiscreteInputs, 3, words, TimeoutMs).IsGood,
            link.ReadRegisters(1, ModbusTable.HoldingRegisters, 21, words, TimeoutMs).IsGood,
            link.ReadRegisters(1, ModbusTable.InputRegisters, 3, words, TimeoutMs).IsGood,
            link.WriteCoil(1, 3, true, TimeoutMs).IsGood,
            link.WriteRegister(1, 3, 5, TimeoutMs).IsGood,
            link.ReadExceptionStatus(1, out _, TimeoutMs).IsGood,
            link.ReturnQueryData(1, 0xA537, TimeoutMs).IsGood,
            link.WriteCoils(1, 3, [true, false, true], TimeoutMs).IsGood,
            link.WriteRegisters(1, 3, [5, 6], TimeoutMs).IsGood,
            link.MaskWriteRegister(1, 3, 0xF2, 0x25, TimeoutMs).IsGood,
            link.ReadWriteRegisters(1, 3, words, 3, [1, 2], TimeoutMs).IsGood,
            link.ReadDeviceIdentification(1, DeviceIdAccess.Basic, 0, TimeoutMs, out _).IsGood,
            !link.ReadRegisters(1, ModbusTable.HoldingRegisters, 199, words, TimeoutMs).IsGood,
        ];
        Assert.DoesNotContain(false, isGood);
    }
}
