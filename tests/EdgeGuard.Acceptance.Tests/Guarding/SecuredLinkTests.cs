using System.Net;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Commands;
using EdgeGuard.Modbus.Security;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.Service.Requests;
using EdgeGuard.Service.Tests.Guarding;

namespace EdgeGuard.Acceptance.Tests.Guarding;

/// <summary>A guard process on a secured link whose certificates end soon: journal, status and check say so.</summary>
public sealed class SecuredLinkTests : IDisposable
{
    private readonly TestFolder _folder = new();
    private readonly PlantAuthority _authority = new();

    public void Dispose()
    {
        _authority.Dispose();
        _folder.Dispose();
    }

    [Trait("requirement", "MODB-10")]
    [Fact]
    public void Certificates_that_end_stand_in_journal_status_and_check()
    {
        using TcpModbusServer device = Device();
        TestSite text = TestSite.N1(device.Port).Patient().With("\"host\": \"127.0.0.1\",", "\"host\": \"127.0.0.1\", \"connectMs\": 9000, \"security\": { \"certificate\": \"guard.pem\", \"key\": \"guard.key\", \"trusted\": \"plant.pem\" },");
        string site = text.Write(_folder.File("site"));
        _authority.WriteFiles(site, "guard");
        using GuardChild guard = GuardChild.Start(_folder, site);
        SiteStatus status = guard.Await("the device's certificate", static s => s.Links[0] is { Online: true, Certificates.Count: 3 });
        Assert.Equal(
            [("own certificate", "Within7Days"), ("trusted issuer plant", "Within30Days"), ("certificate of the device", "Within7Days")],
            status.Links[0].Certificates!.Select(static c => (c.What, c.Level)));
        long end = Environment.TickCount64 + 120_000;
        while (Told(guard).Length < 3)
        {
            Assert.True(Environment.TickCount64 < end, $"told so far: {string.Join('|', Told(guard))}");
            Thread.Sleep(100);
        }

        guard.Terminate(); // the still device takes no write, so its end is not confirmed
        Assert.Equal(["own certificate expires in 6", "trusted issuer plant expires in 29", "certificate of the device expires in 6"], Told(guard));
        Assert.Contains("link n1: own certificate expires in 6 days", File.ReadAllText(_folder.File("guard.log")), StringComparison.Ordinal);

        var output = new StringWriter();
        Assert.Equal(ExitCode.Good, CheckCommand.Run(site, json: false, output));
        Assert.Contains("own certificate: 6 DAYS LEFT, until ", output.ToString(), StringComparison.Ordinal);
        Assert.Contains("trusted issuer plant: 29 DAYS LEFT, until ", output.ToString(), StringComparison.Ordinal);
        output = new StringWriter();
        Assert.Equal(ExitCode.Good, CheckCommand.Run(site, json: true, output));
        Assert.Contains("\"daysLeft\":6,\"level\":\"Within7Days\"", output.ToString(), StringComparison.Ordinal);
    }

    private static string[] Told(GuardChild guard) =>
    [
        .. JournalLines.LastRun(guard.Data).Where(static r => r["event"] == "certificate-ends")
            .Select(static r => r["text"]!["link n1: ".Length..]).Select(static t => t[..t.IndexOf(" days", StringComparison.Ordinal)]),
    ];

    private TcpModbusServer Device()
    {
        ModbusTlsServerOptions security = new()
        {
            Certificate = _authority.Device("127.0.0.1"),
            TrustedIssuers = [_authority.Root],
            Rights = new Dictionary<string, ModbusRight>(StringComparer.Ordinal) { ["guard"] = ModbusRight.Read | ModbusRight.Write },
        };
        var devices = new Dictionary<byte, IModbusDevice> { [1] = StillDevice.Controller(), [2] = StillDevice.Meter() };
        var device = new TcpModbusServer(new IPEndPoint(IPAddress.Loopback, 0), devices, new TcpModbusServerOptions { Security = security });
        device.Start();
        return device;
    }
}
