using System.Net.Sockets;
using System.Text;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>Messages as in sd_notify(3): READY=1, WATCHDOG=1, STOPPING=1.</summary>
public sealed class SystemdNotifierTests
{
    [Fact]
    public void The_manager_hears_ready_alive_and_stopping()
    {
        string path = Path.Combine(Directory.CreateTempSubdirectory("edgeguard").FullName, "notify");
        using var manager = new Socket(AddressFamily.Unix, SocketType.Dgram, ProtocolType.Unspecified) { ReceiveTimeout = 5_000 };
        manager.Bind(new UnixDomainSocketEndPoint(path));
        using var notifier = new SystemdNotifier(path);
        notifier.Ready();
        notifier.Alive();
        notifier.Stopping();
        Assert.Equal("READY=1\nWATCHDOG=1", Receive(manager));
        Assert.Equal("WATCHDOG=1", Receive(manager));
        Assert.Equal("STOPPING=1", Receive(manager));
    }

    [Fact]
    public void A_manager_that_is_gone_or_was_never_there_costs_nothing()
    {
        using var none = new SystemdNotifier(null);
        none.Ready();
        string path = Path.Combine(Directory.CreateTempSubdirectory("edgeguard").FullName, "notify");
        var manager = new Socket(AddressFamily.Unix, SocketType.Dgram, ProtocolType.Unspecified);
        manager.Bind(new UnixDomainSocketEndPoint(path));
        using var notifier = new SystemdNotifier(path);
        manager.Dispose();
        Assert.Null(Record.Exception(notifier.Alive));
    }

    private static string Receive(Socket socket)
    {
        byte[] buffer = new byte[100];
        return Encoding.ASCII.GetString(buffer, 0, socket.Receive(buffer));
    }
}
