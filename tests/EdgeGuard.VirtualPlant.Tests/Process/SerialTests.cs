using System.Net;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Faults;
using EdgeGuard.VirtualPlant.Process;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Process;

/// <summary>The cabinet on a serial line and through RTU over TCP; frames on the serial line are made by hand.</summary>
public sealed class SerialTests
{
    private const int TimeoutMs = 30_000; // for what comes by itself

    private readonly Cabinet _cabinet = new(PlantProfiles.N1);

    /// <summary>The check of the CRC below: the published value for "123456789" is 4B37.</summary>
    [Fact]
    public void The_CRC_of_these_tests_gives_the_published_check_value() =>
        Assert.Equal(0x4B37, Crc("123456789"u8));

    [Trait("requirement", "PLNT-6")]
    [Fact]
    public void Frames_made_by_hand_are_answered_on_a_serial_port_beside_the_TCP_port()
    {
        using var line = new PseudoTerminal();
        using var endpoint = new UnitEndpoint(_cabinet, 0, serialPort: new SerialLineOptions { PortName = line.Name });

        // Write single register: unit 1, blower demand (7) to 80.0 %; the answer is the request again.
        byte[] write = Frame(1, 6, 0, 7, 0x03, 0x20);
        Assert.Equal(write, line.Exchange(write, write.Length));
        Assert.Equal(80.0, _cabinet.BlowerPercent);

        // Read input registers 4 and 5 of unit 1: inlet 40.0 °C is 4220 0000, IEEE 754.
        Assert.Equal(Frame(1, 4, 4, 0x42, 0x20, 0, 0), line.Exchange(Frame(1, 4, 0, 4, 0, 2), 9));

        // The meter answers behind unit 2, low word first.
        Assert.Equal(Frame(2, 4, 4, 0, 0, 0x42, 0x20), line.Exchange(Frame(2, 4, 0, 2, 0, 2), 9));

        // The same cabinet over TCP.
        using var link = new TcpModbusLink(new IPEndPoint(IPAddress.Loopback, endpoint.Port));
        link.Connect(TimeoutMs);
        ushort[] blower = new ushort[1];
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 7, blower, TimeoutMs).IsGood);
        Assert.Equal(800, blower[0]);
    }

    [Fact]
    public void A_silent_and_a_dropped_serial_link_do_nothing_until_cleared()
    {
        using var line = new PseudoTerminal();
        using var endpoint = new UnitEndpoint(_cabinet, 0, serialPort: new SerialLineOptions { PortName = line.Name });
        byte[] relay = Frame(1, 6, 0, 1, 0, 1);
        byte[] enable = Frame(1, 6, 0, 2, 0, 1);
        Set(endpoint, FaultKind.LinkSilent);
        line.Send(relay);
        Thread.Sleep(300);
        Assert.False(_cabinet.Registers.Relay);
        Clear(endpoint, FaultKind.LinkSilent);
        Assert.Equal(enable, line.Exchange(enable, enable.Length));
        Set(endpoint, FaultKind.LinkDrop);
        Clear(endpoint, FaultKind.LinkDrop);
        Assert.Equal(relay, line.Exchange(relay, relay.Length));
        Assert.True(_cabinet.Registers.Relay && _cabinet.Registers.Enable);
    }

    // The flag would stay after the last close: tty_ioctl(4) speaks of a terminal, and this one lives as long as its other end.
    [Fact]
    public void A_pseudo_terminal_is_left_so_that_an_ordinary_account_can_open_it_again()
    {
        using var line = new PseudoTerminal();
        using (new UnitEndpoint(_cabinet, 0, serialPort: new SerialLineOptions { PortName = line.Name }))
        {
            Assert.False(line.IsExclusive());
        }

        Assert.False(line.IsExclusive());
        using var again = new UnitEndpoint(_cabinet, 0, serialPort: new SerialLineOptions { PortName = line.Name });
    }

    [Fact]
    public void A_serial_port_that_is_not_there_is_said_so_and_the_TCP_port_is_free_again()
    {
        LinkOpenException e = Assert.Throws<LinkOpenException>(() => new UnitEndpoint(_cabinet, 0, serialPort: new SerialLineOptions { PortName = "/dev/there-is-no-such-port" }));
        Assert.Equal(LinkOpenFault.PortMissing, e.Fault);
    }

    [Trait("requirement", "PLNT-6")]
    [Fact]
    public void RTU_over_TCP_takes_the_place_of_Modbus_TCP()
    {
        using var endpoint = new UnitEndpoint(_cabinet, 0, isRtuOverTcp: true);
        using var link = new RtuOverTcpModbusLink(new IPEndPoint(IPAddress.Loopback, endpoint.Port));
        link.Connect(TimeoutMs);
        Assert.True(link.WriteRegister(1, 7, 500, TimeoutMs).IsGood);
        ushort[] words = new ushort[26];
        Assert.True(link.ReadRegisters(1, ModbusTable.InputRegisters, 0, words, TimeoutMs).IsGood);
        Assert.Equal(50.0, _cabinet.BlowerPercent);
        Assert.Equal([0x4220, 0x0000], words[4..6]);
    }

    private void Set(UnitEndpoint endpoint, FaultKind kind)
    {
        lock (_cabinet.Gate)
        {
            _cabinet.Faults.Set(kind, 0);
        }

        endpoint.FollowFaults();
    }

    private void Clear(UnitEndpoint endpoint, FaultKind kind)
    {
        lock (_cabinet.Gate)
        {
            _cabinet.Faults.Clear(kind);
        }

        endpoint.FollowFaults();
    }

    private static byte[] Frame(params byte[] bytes)
    {
        ushort crc = Crc(bytes);
        return [.. bytes, (byte)(crc & 0xFF), (byte)(crc >> 8)];
    }

    // CRC-16 of the serial guide V1.02, 6.2.2: polynomial A001 reflected, start FFFF, low byte sent first.
    private static ushort Crc(ReadOnlySpan<byte> bytes)
    {
        int crc = 0xFFFF;
        foreach (byte value in bytes)
        {
            crc ^= value;
            for (int bit = 0; bit < 8; bit++)
            {
                crc = (crc & 1) != 0 ? (crc >> 1) ^ 0xA001 : crc >> 1;
            }
        }

        return (ushort)crc;
    }
}
