using System.Globalization;
using System.Net;
using EdgeGuard.Modbus.Security;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.FieldIo;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Requests;
using EdgeGuard.Service.Tests.Configuration;
using EdgeGuard.Service.Tests.FieldIo;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>
/// The end of the certificates of a secured link, told in time: certificates made here (own and device 7 days, issuer 30
/// days), a real handshake, and a clock the test moves.
/// </summary>
public sealed class LinkCertificateWatchTests : IDisposable
{
    private readonly PlantAuthority _authority = new();
    private readonly TemporarySite _site = new(SiteFolders.Minimal);
    private readonly List<string> _told = [];
    private readonly DateTime _now = DateTime.UtcNow.AddHours(1); // so that whole days do not turn on the second
    private TcpModbusServer _device;
    private readonly LinkWorker _worker;
    private readonly GuardPlan _plan;
    private readonly LinkCertificateWatch _watch;

    public LinkCertificateWatchTests()
    {
        _device = Device(0, daysAgo: 0);
        _authority.WriteFiles(_site.Folder, "guard");
        string link = string.Create(CultureInfo.InvariantCulture, $"\"host\": \"127.0.0.1\", \"port\": {_device.Port}, \"connectMs\": 9000, \"security\": {{ \"certificate\": \"guard.pem\", \"key\": \"guard.key\", \"trusted\": \"plant.pem\" }}");
        _site.Replace("site.json", "\"host\": \"127.0.0.1\", \"port\": 15020", link);
        _plan = GuardPlanBuilder.Build(SiteLoader.Load(_site.Folder).Site!);
        var clock = new MonotonicClock();
        _worker = new LinkWorker(new LinkEngine(_plan.Links[0].Table with { TimeoutMs = 5_000 }, LinkBuilder.Build(_plan.Links[0]), clock), clock, new QuietObserver(), conducted: true);
        _watch = new LinkCertificateWatch(_plan, [_worker], (what, expired) => _told.Add((expired ? "! " : "  ") + what));
    }

    public void Dispose()
    {
        _worker.Engine.Close();
        _worker.Dispose();
        _device.Dispose();
        _authority.Dispose();
        _site.Dispose();
    }

    [Trait("requirement", "MODB-10")]
    [Fact]
    public void Each_certificate_is_told_at_its_level_and_the_devices_once_it_was_shown()
    {
        _watch.Look(_now.AddDays(-100));
        Assert.Empty(_told);
        _watch.Look(_now);
        Assert.Equal([Line("own certificate", 6, 7), Line("trusted issuer plant", 29, 30)], _told);
        _watch.Look(_now);
        Assert.Equal(2, _told.Count);

        _worker.Engine.ConnectAndProve();
        _watch.Look(_now);
        Assert.Equal(Line("certificate of the device", 6, 7), _told[^1]);
        _watch.Look(_now);
        Assert.Equal(3, _told.Count);

        _watch.Look(_now.AddDays(8));
        Assert.Equal(5, _told.Count);
        Assert.StartsWith("! link n1: own certificate has expired on ", _told[3], StringComparison.Ordinal);
        Assert.StartsWith("! link n1: certificate of the device has expired on ", _told[4], StringComparison.Ordinal);
    }

    [Fact]
    public void A_renewed_certificate_of_the_device_is_judged_anew_at_the_next_connect()
    {
        _worker.Engine.ConnectAndProve();
        _watch.Look(_now);
        int port = _device.Port;
        _device.Dispose();
        _device = Device(port, daysAgo: 3);
        _worker.Engine.PollAll();
        _worker.Engine.ConnectAndProve();
        _told.Clear();
        _watch.Look(_now);
        Assert.Equal([Line("certificate of the device", 3, 4)], _told);
    }

    [Fact]
    public void Status_and_check_have_the_days_left()
    {
        Assert.Null(CertificateReports.Of(null, _worker.Engine, 0));
        long utcMs = new DateTimeOffset(_now).ToUnixTimeMilliseconds();
        ModbusTlsOptions security = _plan.Links[0].Options!.Security!;
        Assert.Equal(["own certificate: 6 DAYS LEFT Within7Days", "trusted issuer plant: 29 DAYS LEFT Within30Days"], Words(CertificateReports.Of(security, _worker.Engine, utcMs)!));
        _worker.Engine.ConnectAndProve();
        CertificateReport[] reports = [.. CertificateReports.Of(security, _worker.Engine, utcMs)!];
        Assert.Equal("certificate of the device: 6 DAYS LEFT Within7Days", Words(reports)[^1]);
        Assert.Equal((6, _now.AddDays(7).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)), (reports[2].DaysLeft, reports[2].Until));
        Assert.Equal(Words(reports)[..2], Words(CertificateReports.Of(security, _now)));
    }

    [Fact]
    public void A_look_that_tells_nothing_allocates_nothing()
    {
        _worker.Engine.ConnectAndProve();
        _watch.Look(_now);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 100; i++)
        {
            _watch.Look(_now);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private static string[] Words(IEnumerable<CertificateReport> reports) => [.. reports.Select(static r => $"{r.What}: {r.Words} {r.Level}")];

    private string Line(string what, int days, int until) =>
        string.Create(CultureInfo.InvariantCulture, $"  link n1: {what} expires in {days} days, on {_now.AddDays(until):yyyy-MM-dd}; from then on the link does not connect again: have it renewed");

    private TcpModbusServer Device(int port, int daysAgo)
    {
        ModbusTlsServerOptions security = new()
        {
            Certificate = _authority.Device("127.0.0.1", daysAgo),
            TrustedIssuers = [_authority.Root],
            Rights = new Dictionary<string, ModbusRight>(StringComparer.Ordinal) { ["guard"] = ModbusRight.Read },
        };
        var device = new TcpModbusServer(new IPEndPoint(IPAddress.Loopback, port), new Dictionary<byte, IModbusDevice> { [1] = new PickyDevice() }, new TcpModbusServerOptions { Security = security });
        device.Start();
        return device;
    }
}
