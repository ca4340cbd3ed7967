using System.Net;
using System.Net.Sockets;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>The options of a link reach the connection that is made of them.</summary>
public sealed class LinkBuilderTests
{
    private static readonly LinkOptions Options = new() { Name = "l", Host = "127.0.0.1", Port = 502, ConnectMs = 1_000, AnswerMs = 1_000, PollLeadMs = 10 };

    [Fact]
    public void Each_transport_has_its_link()
    {
        using IModbusLink tcp = LinkBuilder.Build(Options);
        using IModbusLink rtu = LinkBuilder.Build(Options with { Transport = LinkTransport.RtuOverTcp });
        using IModbusLink serial = LinkBuilder.Build(Options with { Transport = LinkTransport.Serial, SerialPort = "/dev/no-such-port", Baud = 9_600 });
        Assert.IsType<TcpModbusLink>(tcp);
        Assert.IsType<RtuOverTcpModbusLink>(rtu);
        Assert.IsType<SerialModbusLink>(serial);
        LinkOpenException missing = Assert.Throws<LinkOpenException>(() => serial.Connect(100));
        Assert.Contains("/dev/no-such-port: there is no such serial port", missing.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(true, ModbusOutcome.Good)]
    [InlineData(false, ModbusOutcome.BadAnswer)]
    public async Task Answers_with_transaction_id_zero_count_only_by_option(bool accepted, ModbusOutcome outcome)
    {
        using var gateway = new TcpListener(IPAddress.Loopback, 0);
        gateway.Start();
        Task answering = Task.Run(() => AnswerAll(gateway), TestContext.Current.CancellationToken);
        int port = ((IPEndPoint)gateway.LocalEndpoint).Port;
        using IModbusLink link = LinkBuilder.Build(Options with { Port = port, ZeroTransactionIds = accepted });
        link.Connect(2_000);
        var words = new ushort[1];
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 0, words, 2_000).Outcome is ModbusOutcome.Good or ModbusOutcome.BadAnswer);
        ModbusResult second = link.IsConnected ? link.ReadRegisters(1, ModbusTable.HoldingRegisters, 0, words, 2_000) : new ModbusResult(ModbusOutcome.BadAnswer);
        Assert.Equal(outcome, second.Outcome);
        Assert.Equal(accepted ? 7 : 0, words[0]);
        link.Close();
        await answering.WaitAsync(TimeSpan.FromSeconds(5), TestContext.Current.CancellationToken);
    }

    [Fact]
    public void A_serial_line_is_never_a_link_of_this_machine()
    {
        LinkPlan plan = new(FieldIo.FieldTables.Link(), string.Empty, 0) { Options = Options with { Transport = LinkTransport.Serial } };
        Assert.False(LinkBuilder.IsLocal(plan));
        Assert.True(LinkBuilder.IsLocal(new LinkPlan(FieldIo.FieldTables.Link(), "127.0.0.1", 502) { Options = Options }));
    }

    // Answers every request for one register with 7 under transaction id 0, until the client goes.
    private static void AnswerAll(TcpListener gateway)
    {
        using Socket client = gateway.AcceptSocket();
        var request = new byte[260];
        while (client.Receive(request) > 0)
        {
            client.Send([0, 0, 0, 0, 0, 5, 1, 3, 2, 0, 7]);
        }
    }

    /// <summary>RFC 2606, 2: no name under .invalid has an address.</summary>
    [Fact]
    public void A_host_name_without_an_address_is_told_by_name_with_what_to_look_at()
    {
        SocketException told = Assert.ThrowsAny<SocketException>(() => LinkBuilder.Build(Options with { Host = "cabinet.invalid" }));
        Assert.StartsWith("the host \"cabinet.invalid\" of a link has no address here (", told.Message, StringComparison.Ordinal);
        Assert.EndsWith("; look at its spelling and at the name service of this machine, or state its IP address", told.Message, StringComparison.Ordinal);
    }
}
