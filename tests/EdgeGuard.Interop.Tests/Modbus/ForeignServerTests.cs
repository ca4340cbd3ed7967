using System.Globalization;
using System.Net;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Interop.Tests.Modbus;

/// <summary>Our client and servers of other hands: pymodbus and libmodbus over TCP, libmodbus on a serial port.</summary>
public sealed class ForeignServerTests
{
    private const int TimeoutMs = 60_000;

    [Theory]
    [InlineData("pymodbus")]
    [InlineData("libmodbus")]
    [InlineData("libmodbus serial")]
    [InlineData("libmodbus portable serial")] // by System.IO.Ports, as on other systems
    public void All_functions_of_the_foreign_server_work(string name)
    {
        using PtyPair? pair = name.EndsWith("serial", StringComparison.Ordinal) ? new PtyPair() : null;
        using ForeignPeer peer = Start(name, pair);
        using ModbusLink link = Link(peer, pair, isPortable: name.Contains("portable", StringComparison.Ordinal));
        ushort[] words = new ushort[4];
        Good(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 20, words, TimeoutMs));
        Assert.Equal([20, 21, 22, 23], words);
        Good(link.ReadRegisters(1, ModbusTable.InputRegisters, 30, words, TimeoutMs));
        Assert.Equal([1030, 1031, 1032, 1033], words);
        Good(link.ReadBits(1, ModbusTable.Coils, 3, words, TimeoutMs));
        Assert.Equal([1, 0, 0, 1], words);
        Good(link.ReadBits(1, ModbusTable.DiscreteInputs, 9, words, TimeoutMs));
        Assert.Equal([0, 1, 0, 0], words);

        Good(link.WriteRegister(1, 20, 0xBEEF, TimeoutMs));
        Good(link.WriteRegisters(1, 21, [1, 0xFFFF], TimeoutMs));
        Good(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 20, words, TimeoutMs));
        Assert.Equal([0xBEEF, 1, 0xFFFF, 23], words);
        Good(link.WriteCoil(1, 3, false, TimeoutMs));
        Good(link.WriteCoils(1, 4, [true, true], TimeoutMs));
        Good(link.ReadBits(1, ModbusTable.Coils, 3, words, TimeoutMs));
        Assert.Equal([0, 1, 1, 1], words);

        Good(link.WriteRegister(1, 40, 0x12, TimeoutMs));
        Good(link.MaskWriteRegister(1, 40, 0xF2, 0x25, TimeoutMs));
        Good(link.ReadWriteRegisters(1, 40, words, 41, [0xAAAA], TimeoutMs));
        Assert.Equal([0x17, 0xAAAA, 42, 43], words); // 0x17: example of V1.1b3, 6.16

        // Exception 02 leaves the line usable.
        Assert.Equal(
            new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataAddress),
            link.ReadRegisters(1, ModbusTable.HoldingRegisters, 199, words, TimeoutMs));
        Good(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 100, new ushort[100], TimeoutMs));
        LinkCounters counters = link.Counters;
        Assert.Equal((counters[LinkCounter.Requests], 0, 0), (counters[LinkCounter.Answers] + 1, counters[LinkCounter.BadAnswers], counters[LinkCounter.Timeouts]));
    }

    [Fact]
    public void The_diagnostic_functions_work_against_pymodbus()
    {
        using ForeignPeer peer = Start("pymodbus", null);
        using ModbusLink link = Link(peer, null);
        Good(link.ReturnQueryData(1, 0xA537, TimeoutMs));
        Good(link.ReadExceptionStatus(1, out ushort status, TimeoutMs));
        Assert.Equal(0, status);
        Good(link.ReadDeviceIdentification(1, DeviceIdAccess.Regular, 0, TimeoutMs, out DeviceIdentification? read));
        Assert.Equal(("EdgeGuard tests", "PEER", "3.0"), (read![0], read[1], read[2]));
    }

    [Fact]
    public void A_foreign_server_that_is_killed_is_a_lost_connection()
    {
        using ForeignPeer peer = Start("pymodbus", null);
        using ModbusLink link = Link(peer, null);
        peer.Kill();
        Assert.Equal(ModbusOutcome.ConnectionLost, link.WriteCoil(1, 0, true, TimeoutMs).Outcome);
    }

    private static ForeignPeer Start(string name, PtyPair? pair) => name switch
    {
        "pymodbus" => new ForeignPeer(PeerPaths.Python, PeerPaths.Script("modbus_server.py")),
        "libmodbus" => new ForeignPeer(PeerPaths.LibModbus, "server-tcp"),
        _ => new ForeignPeer(PeerPaths.LibModbus, "server-rtu", pair!.Theirs, "19200"),
    };

    private static ModbusLink Link(ForeignPeer peer, PtyPair? pair, bool isPortable = false)
    {
        SerialLineOptions port = new() { PortName = pair?.Ours ?? "none" };
        ModbusLink link = pair is not null
            ? isPortable ? new SerialModbusLink(port, new PortsSerialLine(port), new RtuLinkOptions()) : new SerialModbusLink(port)
            : new TcpModbusLink(new IPEndPoint(IPAddress.Loopback, int.Parse(peer.FirstLine, CultureInfo.InvariantCulture)));
        link.Connect(TimeoutMs);
        return link;
    }

    private static void Good(ModbusResult result) => Assert.Equal(new ModbusResult(ModbusOutcome.Good), result);
}
