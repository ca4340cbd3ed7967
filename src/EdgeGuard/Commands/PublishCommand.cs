using System.CommandLine;
using System.Net;
using System.Net.Sockets;
using System.Reflection;
using System.Runtime.InteropServices;
using EdgeGuard.Publication;
using EdgeGuard.Publication.Pki;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Commands;

/// <summary>`edgeguard publish`: serves what the guard sees and decides over OPC UA, in a process that cannot hurt the guard.</summary>
internal static class PublishCommand
{
    private const int DefaultPort = 4840;
    private const string JournalHeadFile = "head";

    public static Command Create()
    {
        var site = new Argument<string>("SITE") { Description = "Site folder with site.json.", DefaultValueFactory = static _ => "." };
        var port = new Option<int>("--port") { Description = "TCP port; 0 takes a free one.", DefaultValueFactory = static _ => DefaultPort };
        var bind = new Option<string>("--bind") { Description = "Address to listen on.", DefaultValueFactory = static _ => "127.0.0.1" };
        var none = new Option<bool>("--allow-none") { Description = "Allow sessions without security on an address other than loopback." };
        var command = new Command("publish", "Publish a running guard over OPC UA. Example: edgeguard publish /etc/edgeguard/site --port 4840") { site, port, bind, none };
        command.SetAction(parsed => Run(parsed.GetValue(site)!, parsed.GetValue(port), parsed.GetValue(bind)!, parsed.GetValue(none)));
        return command;
    }

    private static int Run(string folder, int port, string bind, bool allowNone)
    {
        if (!IPAddress.TryParse(bind, out IPAddress? address) || port is < 0 or > IPEndPoint.MaxPort)
        {
            Console.Error.WriteLine($"edgeguard: --bind {bind} --port {port}: expected an IP address and a port from 0 to {IPEndPoint.MaxPort}; try --bind 127.0.0.1 --port {DefaultPort}");
            return ExitCode.Usage;
        }

        SiteLoadResult loaded = SiteLoader.Load(folder);
        if (loaded.Site is null)
        {
            return SiteFolder.Refuse(loaded);
        }

        try
        {
            var log = new ConsoleServerLog();
            using SecurityParts security = SecurityParts.Open(loaded.Site.DataFolder, loaded.Site.Table.Name, log);
            using var host = new PublicationHost(Options(loaded.Site, new IPEndPoint(address, port), allowNone, log, security));
            host.Start();
            Console.WriteLine($"publishing on opc.tcp://{address}:{host.Port}");
            WaitForStop();
            return ExitCode.Good;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or PkiException)
        {
            Console.Error.WriteLine($"edgeguard: the publisher cannot start: {e.Message}");
            return ExitCode.Unavailable;
        }
        catch (SocketException e)
        {
            Console.Error.WriteLine($"edgeguard: cannot listen on {address} port {port}: {Cause(e)}");
            return ExitCode.Unavailable;
        }
    }

    private static PublicationOptions Options(SiteConfiguration site, IPEndPoint endPoint, bool allowNone, ConsoleServerLog log, SecurityParts security) => new()
    {
        Site = site.Table,
        SiteDigest = Convert.FromHexString(site.SettingsDigest),
        RingPath = Path.Combine(site.DataFolder, GuardHost.RingFolder, GuardHost.RingFile),
        JournalHeadPath = Path.Combine(site.DataFolder, GuardHost.JournalFolder, JournalHeadFile),
        EndPoint = endPoint,
        Version = Version(),
        Log = log,
        ApplicationUri = security.ApplicationUri,
        Instance = security.Instance,
        Judge = security.Judge,
        Users = security.Users,
        Requests = new SocketGuardRequests(site.DataFolder),
        AllowNone = allowNone || IPAddress.IsLoopback(endPoint.Address),
    };

    private static void WaitForStop()
    {
        using var stop = new ManualResetEventSlim();
        void Stop(PosixSignalContext context)
        {
            context.Cancel = true;
            stop.Set();
        }

        using var term = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop);
        using var interrupt = PosixSignalRegistration.Create(PosixSignal.SIGINT, Stop);
        stop.Wait();
    }

    private static string Cause(SocketException e) => e.SocketErrorCode switch
    {
        SocketError.AddressAlreadyInUse => "the port is in use; is another publisher running? Try another --port",
        SocketError.AccessDenied => "no permission; ports below 1024 need rights, try a higher --port",
        SocketError.AddressNotAvailable => "this machine has no such address; try --bind 127.0.0.1",
        _ => e.Message,
    };

    private static string Version() =>
        typeof(PublishCommand).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "unknown";
}
