using System.Net.Security;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Security;
using EdgeGuard.Modbus.Tests.Transports;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Security;

/// <summary>Modbus/TCP Security (protocol specification v21, 2018): certificates on both sides, rights by the role in the client's certificate.</summary>
public sealed class ModbusSecurityTests : IDisposable
{
    private const int TimeoutMs = Timed.PatienceMs;
    private const int ShortHandshakeMs = 1_500;
    private readonly TestAuthority _authority = new("plant");
    private readonly TestAuthority _stranger = new("stranger");
    private readonly ModbusTlsServerOptions _security;
    private readonly LoopbackServer _loopback;

    public ModbusSecurityTests()
    {
        _security = new()
        {
            Certificate = _authority.Server(),
            TrustedIssuers = [_authority.Root],
            Rights = new Dictionary<string, ModbusRight> { ["operator"] = ModbusRight.Read | ModbusRight.Write, ["viewer"] = ModbusRight.Read, ["writer"] = ModbusRight.Write },
            HandshakeTimeoutMs = TimeoutMs, // a busy machine takes long for its cryptography
        };
        _loopback = new LoopbackServer(new TcpModbusServerOptions { Security = _security });
    }

    public void Dispose()
    {
        _loopback.Dispose();
        _authority.Dispose();
        _stranger.Dispose();
    }

    [Theory]
    [InlineData("operator", true, true, true)]
    [InlineData("viewer", true, false, false)]
    [InlineData("writer", false, true, false)]
    [InlineData("nobody knows", false, false, false)]
    [InlineData(null, false, false, false)]
    public void What_a_role_may_not_do_is_exception_01_and_does_not_reach_the_device(string? role, bool reads, bool writes, bool both)
    {
        using TcpModbusLink link = Link(_authority.Client(role));
        link.Connect(TimeoutMs);
        ushort[] words = new ushort[1];
        Check(reads, link.ReadRegisters(1, ModbusTable.HoldingRegisters, 5, words, TimeoutMs));
        Check(reads, link.ReadBits(1, ModbusTable.Coils, 5, words, TimeoutMs));
        Check(writes, link.WriteRegister(1, 5, 7, TimeoutMs));
        Check(writes, link.WriteCoil(1, 5, true, TimeoutMs));
        Check(writes, link.MaskWriteRegister(1, 5, 0xFFFF, 0, TimeoutMs));
        Check(both, link.ReadWriteRegisters(1, 5, words, 6, [1], TimeoutMs));
        Assert.Equal(writes ? 7 : 0, _loopback.Device.HoldingRegisters[5]);
        Assert.Equal(both ? 1 : 0, _loopback.Device.HoldingRegisters[6]);

        static void Check(bool isAllowed, ModbusResult result) => Assert.Equal(
            isAllowed ? new ModbusResult(ModbusOutcome.Good) : new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalFunction), result);
    }

    [Fact]
    public void A_client_of_a_strange_issuer_is_not_let_in()
    {
        using TcpModbusLink link = Link(_stranger.Client("operator"));

        // With TLS 1.3 the client learns of the refusal only after its own part of the handshake.
        try
        {
            link.Connect(TimeoutMs);
        }
        catch (LinkOpenException e)
        {
            Assert.Equal(LinkOpenFault.NotTrusted, e.Fault);
            return;
        }

        Assert.Equal(ModbusOutcome.ConnectionLost, link.WriteRegister(1, 5, 7, TimeoutMs).Outcome);
        Assert.Equal(0, _loopback.Device.CallCount);
    }

    [Fact]
    public void A_server_of_a_strange_issuer_is_not_trusted()
    {
        using TcpModbusLink link = Link(_authority.Client("operator"), trusted: _stranger.Root);
        LinkOpenException e = Assert.Throws<LinkOpenException>(() => link.Connect(TimeoutMs));
        Assert.Equal(LinkOpenFault.NotTrusted, e.Fault);
        Assert.Contains("did not agree on a secured connection", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_server_whose_certificate_names_another_address_is_not_trusted()
    {
        using TcpModbusLink link = Link(_authority.Client("operator"), serverName: "10.0.0.9");
        Assert.Equal(LinkOpenFault.NotTrusted, Assert.Throws<LinkOpenException>(() => link.Connect(TimeoutMs)).Fault);
    }

    [Fact]
    public void Plain_Modbus_TCP_gets_no_answer_from_a_secured_server_and_costs_it_no_more_than_the_handshake_time()
    {
        using LoopbackServer server = WithShortHandshake();
        using Socket socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { ReceiveTimeout = TimeoutMs };
        socket.Connect(server.EndPoint);
        socket.Send(Hex.Frame(1, 1, 3, 0, 0, 0, 1));
        byte[] received = new byte[64];
        int count = ReceiveOrReset(socket, received);
        Assert.True(count == 0 || received[0] == 21, "an answer that is no TLS alert (21)"); // RFC 8446, 5.1
        Assert.Equal(0, server.Device.CallCount);
        Timed.Await(() => server.Server.ConnectionCount == 0, "the server has given it up");
    }

    [Fact]
    public void A_client_that_never_begins_the_handshake_is_closed()
    {
        using LoopbackServer server = WithShortHandshake();
        using Socket socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { ReceiveTimeout = TimeoutMs };
        socket.Connect(server.EndPoint);
        Assert.Equal(0, ReceiveOrReset(socket, new byte[1]));
        Timed.Await(() => server.Server.Counters.ConnectionsClosed == 1, "the closing is counted"); // just after the client sees it
    }

    [Fact]
    public void A_client_that_thinks_for_a_while_in_the_handshake_is_let_in()
    {
        ModbusTlsServerOptions security = new()
        {
            Certificate = _authority.Server(),
            TrustedIssuers = [_authority.Root],
            Rights = new Dictionary<string, ModbusRight> { ["operator"] = ModbusRight.Read },
            HandshakeTimeoutMs = 60_000,
        };
        using LoopbackServer server = new(new TcpModbusServerOptions { Security = security });
        using Socket socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        socket.Connect(server.EndPoint);
        Timed.Await(() => server.Server.Counters.Connections == 1, "the connection is taken");
        Thread.Sleep(400); // much longer than the server waits for one connection after the other
        using SslStream stream = new(new NetworkStream(socket));
        stream.AuthenticateAsClient(new SslClientAuthenticationOptions
        {
            TargetHost = "127.0.0.1",
            ClientCertificates = [_authority.Client("operator")],
            CertificateChainPolicy = security.ChainPolicy(),
        });
        stream.Write(Hex.Frame(1, 1, 3, 0, 5, 0, 1));
        byte[] answer = new byte[11];
        stream.ReadExactly(answer);
        Assert.Equal(Hex.Text(Hex.Frame(1, 1, 3, 2, 0, 0)), Hex.Text(answer));
    }

    [Fact]
    public void A_plain_link_to_a_secured_server_fails_and_a_silent_secured_server_is_a_time_out()
    {
        _loopback.Server.Silent = true;
        using TcpModbusLink link = Link(_authority.Client("operator"));
        Timed.AssertEndsAt(150, 850, () => Assert.Equal(ModbusOutcome.Timeout, link.WriteRegister(1, 5, 7, 150).Outcome), () => link.Connect(TimeoutMs));
        Assert.False(link.IsConnected);
    }

    [Fact]
    public void A_record_that_comes_in_drips_does_not_hold_the_caller_past_the_deadline()
    {
        const int DripMs = 100; // A record of an answer has more than 30 bytes, so that it would take 3 s.
        using DripRelay relay = new(_loopback.EndPoint);
        using TcpModbusLink link = Link(_authority.Client("operator"), to: relay.EndPoint);
        ushort[] words = new ushort[1];
        Timed.AssertEndsAt(400, 1600, () => Assert.Equal(ModbusOutcome.Timeout, link.ReadRegisters(1, ModbusTable.HoldingRegisters, 5, words, 400).Outcome), () =>
        {
            relay.DripMs = 0;
            link.Connect(TimeoutMs);
            Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 5, words, TimeoutMs).IsGood);
            relay.DripMs = DripMs;
        });
        Assert.False(link.IsConnected);
    }

    [Fact]
    public void The_end_of_one_request_does_not_cut_the_next()
    {
        using TcpModbusLink link = Link(_authority.Client("operator"));
        link.Connect(TimeoutMs);
        ushort[] words = new ushort[1];
        for (int i = 0; i < 3; i++)
        {
            Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 5, words, 2000).IsGood);
            Thread.Sleep(1100); // Two of them are longer than the time of one request.
        }
    }

    [Theory]
    [InlineData("0C 06 76 69 65 77 65 72", "viewer")]
    [InlineData("0C 06 76 69 65 77 65 72 00", null)] // more behind it
    [InlineData("0C 07 76 69 65 77 65 72", null)] // shorter than it says
    [InlineData("13 06 76 69 65 77 65 72", null)] // a PrintableString
    [InlineData("0C 00", null)]
    [InlineData("0C 02 C3 28", null)] // not UTF-8
    public void Only_one_whole_UTF8String_is_a_role(string raw, string? role)
    {
        using X509Certificate2 certificate = _authority.ClientWithRawRole(Hex.Bytes(raw));
        Assert.Equal(role, ModbusRole.Of(certificate));
    }

    [Fact]
    public void A_secured_link_allocates_nothing_for_a_request()
    {
        using TcpModbusLink link = Link(_authority.Client("operator"));
        link.Connect(TimeoutMs);
        ushort[] words = new ushort[12];
        Assert.True(Run(100));
        long before = GC.GetAllocatedBytesForCurrentThread();
        bool isGood = Run(1000);
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.True(isGood);
        Assert.InRange(allocated, 0, 999); // less than a byte each

        bool Run(int count)
        {
            bool all = true;
            for (int i = 0; i < count; i++)
            {
                all &= link.ReadRegisters(1, ModbusTable.HoldingRegisters, 0, words, TimeoutMs).IsGood;
            }

            return all;
        }
    }

    [Fact]
    public void RTU_inside_TLS_is_refused_as_a_setting() => Assert.Throws<ArgumentException>(() => new LoopbackServer(new TcpModbusServerOptions
    {
        IsRtuOverTcp = true,
        Security = new ModbusTlsServerOptions { Certificate = _authority.Server(), TrustedIssuers = [], Rights = new Dictionary<string, ModbusRight>() },
    }));

    [Fact]
    public void A_certificate_without_its_key_and_an_empty_list_of_issuers_are_refused_before_anything_is_opened()
    {
        using X509Certificate2 own = _authority.Server();
        using X509Certificate2 publicPart = X509CertificateLoader.LoadCertificate(own.RawData);
        Dictionary<string, ModbusRight> rights = [];
        Assert.Contains("private key", Refusal(new ModbusTlsServerOptions { Certificate = publicPart, TrustedIssuers = [_authority.Root], Rights = rights }), StringComparison.Ordinal);
        Assert.Contains("issuer", Refusal(new ModbusTlsServerOptions { Certificate = own, TrustedIssuers = [], Rights = rights }), StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => new TcpModbusLink(
            _loopback.EndPoint, new TcpModbusLinkOptions { Security = new ModbusTlsOptions { Certificate = publicPart, TrustedIssuers = [_authority.Root] } }));

        static string Refusal(ModbusTlsServerOptions security) =>
            Assert.ThrowsAny<ArgumentException>(() => new LoopbackServer(new TcpModbusServerOptions { Security = security })).Message;
    }

    private LoopbackServer WithShortHandshake() => new(new TcpModbusServerOptions { Security = _security with { HandshakeTimeoutMs = ShortHandshakeMs } });

    // Closed in order or reset: which of the two depends on what the server was waiting for.
    private static int ReceiveOrReset(Socket socket, byte[] received)
    {
        try
        {
            return socket.Receive(received);
        }
        catch (SocketException e) when (e.SocketErrorCode == SocketError.ConnectionReset)
        {
            return 0;
        }
    }

    private TcpModbusLink Link(X509Certificate2 certificate, X509Certificate2? trusted = null, string? serverName = null, System.Net.IPEndPoint? to = null) => new(
        to ?? _loopback.EndPoint,
        new TcpModbusLinkOptions
        {
            Security = new ModbusTlsOptions { Certificate = certificate, TrustedIssuers = [trusted ?? _authority.Root], ServerName = serverName },
        });
}
