using System.Globalization;
using System.Net;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Security;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Tests.Configuration;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>From the keys of the site file to a secured device: Modbus/TCP Security (protocol specification v21, 2018), with certificates on both sides.</summary>
public sealed class SecuredLinkTests : IDisposable
{
    private const string Plain = "\"host\": \"127.0.0.1\", \"port\": 15020";
    private const string Files = "\"certificate\": \"guard.pem\", \"key\": \"guard.key\", \"trusted\": \"plant.pem\"";
    private const int TimeoutMs = 5_000;
    private readonly PlantAuthority _authority = new();
    private readonly TemporarySite _site = new(SiteFolders.Minimal);

    public void Dispose()
    {
        _authority.Dispose();
        _site.Dispose();
    }

    [Theory]
    [InlineData("127.0.0.1", "")]
    [InlineData("cabinet-7.plant", ", \"serverName\": \"cabinet-7.plant\"")]
    public void A_link_of_the_site_file_reads_a_secured_device(string name, string more)
    {
        using TcpModbusServer device = Device(name);
        using IModbusLink link = Link(device.Port, more);
        link.Connect(TimeoutMs);
        var words = new ushort[1];
        Assert.Equal(ModbusOutcome.Good, link.ReadRegisters(1, ModbusTable.HoldingRegisters, 3, words, TimeoutMs).Outcome);
        Assert.Equal(1_003, words[0]);
    }

    [Fact]
    public void A_device_with_another_name_in_its_certificate_is_not_trusted()
    {
        using TcpModbusServer device = Device("cabinet-8.plant");
        using IModbusLink link = Link(device.Port, string.Empty);
        Assert.Equal(LinkOpenFault.NotTrusted, Assert.Throws<LinkOpenException>(() => link.Connect(TimeoutMs)).Fault);
    }

    [Fact]
    public void Without_a_port_it_leads_to_802_and_without_security_to_502()
    {
        _authority.WriteFiles(_site.Folder, "guard");
        _site.Replace("site.json", Plain, $"\"host\": \"127.0.0.1\", \"security\": {{ {Files} }}");
        LinkOptions secured = Load().Links[0];
        Assert.Equal((802, "127.0.0.1 port 802 with TLS"), (secured.Port, secured.Place));
        _site.Replace("site.json", $", \"security\": {{ {Files} }}", string.Empty);
        Assert.Equal(502, Load().Links[0].Port);
    }

    [Fact]
    public void Whom_a_link_trusts_changes_the_digest_and_a_renewed_certificate_does_not()
    {
        string clear = Load().SettingsDigest;
        _authority.WriteFiles(_site.Folder, "guard");
        Secure(15_020, string.Empty);
        string secured = Load().SettingsDigest;
        _authority.WriteFiles(_site.Folder, "guard");
        string renewed = Load().SettingsDigest;
        using var other = new PlantAuthority();
        other.WriteFiles(_site.Folder, "guard");
        Assert.Equal(secured, renewed);
        Assert.Equal(3, new HashSet<string>(StringComparer.Ordinal) { clear, secured, Load().SettingsDigest }.Count);
    }

    [Fact]
    public void An_expired_certificate_is_a_fault_of_the_site()
    {
        _authority.WriteFiles(_site.Folder, "guard", daysAgo: 30);
        Secure(15_020, string.Empty);
        SiteFault fault = Assert.Single(SiteLoader.Load(_site.Folder).Faults);
        Assert.Equal("a certificate of \"certificate\" has expired", fault.What);
        Assert.Contains("to have it renewed", fault.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_key_of_another_certificate_is_a_fault_of_the_site()
    {
        _authority.WriteFiles(_site.Folder, "guard");
        string first = _site.Read("guard.key");
        _authority.WriteFiles(_site.Folder, "guard");
        File.WriteAllText(Path.Combine(_site.Folder, "guard.key"), first);
        Secure(15_020, string.Empty);
        Assert.Equal("the key cannot be used with the certificate", Assert.Single(SiteLoader.Load(_site.Folder).Faults).What);
    }

    private TcpModbusServer Device(string name)
    {
        ModbusTlsServerOptions security = new()
        {
            Certificate = _authority.Device(name),
            TrustedIssuers = [_authority.Root],
            Rights = new Dictionary<string, ModbusRight>(StringComparer.Ordinal) { ["guard"] = ModbusRight.Read },
        };
        var device = new TcpModbusServer(new IPEndPoint(IPAddress.Loopback, 0), new Dictionary<byte, IModbusDevice> { [1] = new Counting() }, new TcpModbusServerOptions { Security = security });
        device.Start();
        return device;
    }

    private IModbusLink Link(int port, string more)
    {
        _authority.WriteFiles(_site.Folder, "guard");
        Secure(port, more);
        return LinkBuilder.Build(Load().Links[0]);
    }

    private void Secure(int port, string more) =>
        _site.Replace("site.json", Plain, string.Create(CultureInfo.InvariantCulture, $"\"host\": \"127.0.0.1\", \"port\": {port}, \"security\": {{ {Files}{more} }}"));

    private SiteConfiguration Load()
    {
        SiteLoadResult loaded = SiteLoader.Load(_site.Folder);
        Assert.Empty(loaded.Faults);
        return loaded.Site!;
    }

    /// <summary>Each register holds its address and a thousand.</summary>
    private sealed class Counting : IModbusDevice
    {
        public ModbusExceptionCode ReadBits(ModbusTable table, int address, Span<bool> values) => ModbusExceptionCode.IllegalFunction;

        public ModbusExceptionCode ReadRegisters(ModbusTable table, int address, Span<ushort> values)
        {
            for (int i = 0; i < values.Length; i++)
            {
                values[i] = (ushort)(1_000 + address + i);
            }

            return ModbusExceptionCode.None;
        }

        public ModbusExceptionCode WriteCoils(int address, ReadOnlySpan<bool> values) => ModbusExceptionCode.IllegalFunction;

        public ModbusExceptionCode WriteRegisters(int address, ReadOnlySpan<ushort> values) => ModbusExceptionCode.IllegalFunction;
    }
}
