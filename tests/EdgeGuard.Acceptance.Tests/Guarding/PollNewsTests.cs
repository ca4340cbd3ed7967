using System.Net;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Acceptance.Tests.Guarding;

/// <summary>What a person finds in the journal of a real guard when a device does not fit the site file.</summary>
public sealed class PollNewsTests : IDisposable
{
    private const int PollsInVain = 5;

    private readonly TestFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Trait("requirement", "MODB-11")]
    [Fact]
    public void Registers_that_a_device_refuses_are_told_once_with_unit_id_and_what_to_look_at()
    {
        // The example map reads input registers 0 to 4 of the meter; this one ends after register 2.
        var meter = new StillDevice([0x0000, 0x41A0, 0x0000], []);
        string told = Told(new TcpModbusServerOptions(), "", new() { [1] = StillDevice.Controller(), [2] = meter });
        Assert.StartsWith("n1: unit id 2 refuses input 0 to 4: exception 02, illegal data address: ", told, StringComparison.Ordinal);
        Assert.Contains("the map is off by one, or a block spans a gap and has to be split", told, StringComparison.Ordinal);
    }

    [Trait("requirement", "MODB-11")]
    [Fact]
    public void A_device_that_is_silent_on_a_link_that_stands_is_told_once_with_unit_id_and_what_to_look_at()
    {
        string told = Told(new TcpModbusServerOptions { IsRtuOverTcp = true }, "\"transport\": \"rtuTcp\", ", new() { [1] = StillDevice.Controller() });
        Assert.Equal("n1: unit id 2 does not answer; check its power, its cable and the unit id in the site file and in the device", told);
    }

    /// <summary>The one line about polls of a run with these devices.</summary>
    private string Told(TcpModbusServerOptions options, string transport, Dictionary<byte, IModbusDevice> devices)
    {
        using var server = new TcpModbusServer(new IPEndPoint(IPAddress.Loopback, 0), devices, options);
        server.Start();
        TestSite site = TestSite.N1(server.Port).With("\"name\": \"n1\", ", "\"name\": \"n1\", " + transport);
        using GuardChild guard = GuardChild.Start(_folder, site.Write(_folder.File("site")));
        guard.Await("the meter asked in vain", static s => s.Links[0].Online && s.Links[0].Of(LinkFigure.FailedReads) >= PollsInVain);
        guard.Terminate(); // its removals are refused by these devices, and its exit code says so
        return Assert.Single(JournalLines.Read(guard.Data), static r => r["event"] == "poll-fails")["text"]!;
    }
}
