using System.CommandLine;
using System.Net;
using System.Net.Sockets;
using System.Reflection;
using EdgeGuard.Publication;
using EdgeGuard.Publication.Pki;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Commands;

/// <summary>`edgeguard publish`: serves what the guard sees and decides over OPC UA, in a process that cannot hurt the guard.</summary>
internal static class PublishCommand
{
    /// <summary>Option by which the guard starts it.</summary>
    public const string UntilInputEnds = "--until-input-ends";

    private const string JournalHeadFile = "head";

    public static Command Create()
    {
        var site = new Argument<string>("SITE") { Description = "Site folder with site.json.", DefaultValueFactory = static _ => "." };
        var port = new Option<int?>("--port") { Description = "TCP port instead of the one in the site file; 0 takes a free one." };
        var bind = new Option<string?>("--bind") { Description = "Address to listen on instead of the one in the site file." };
        var none = new Option<bool>("--allow-none") { Description = "Allow sessions without security on an address other than loopback." };
        var kept = new Option<bool>(UntilInputEnds) { Description = "End when standard input ends, and give signs of life on standard output: the way the guard starts it." };
        var command = new Command("publish", "Publish a running guard over OPC UA. Example: edgeguard publish /etc/edgeguard/site --port 4840") { site, port, bind, none, kept };
        command.SetAction(parsed => Run(parsed.GetValue(site)!, parsed.GetValue(port), parsed.GetValue(bind), parsed.GetValue(none), parsed.GetValue(kept)));
        return command;
    }

    private static int Run(string folder, int? portOption, string? bindOption, bool allowNone, bool kept)
    {
        if (kept)
        {
            ParentProcess.YieldToGuard();
            ParentProcess.EndTogether();
        }

        if (!IPAddress.TryParse(bindOption ?? "127.0.0.1", out _) || portOption is < 0 or > IPEndPoint.MaxPort)
        {
            Console.Error.WriteLine(portOption is < 0 or > IPEndPoint.MaxPort
                ? $"edgeguard: --port: found {portOption}; expected 0 to {IPEndPoint.MaxPort}; try --port 4840"
                : $"edgeguard: --bind: found \"{bindOption}\"; expected an IP address of this machine; try --bind 127.0.0.1");
            return ExitCode.Usage;
        }

        SiteLoadResult loaded = SiteLoader.Load(folder);
        if (loaded.Site is not { } site)
        {
            return SiteFolder.Refuse(loaded);
        }

        var endPoint = new IPEndPoint(IPAddress.Parse(bindOption ?? site.Publication.Bind), portOption ?? site.Publication.Port);
        return Serve(site, endPoint, allowNone || site.Publication.AllowNone, kept);
    }

    private static int Serve(SiteConfiguration site, IPEndPoint endPoint, bool allowNone, bool kept)
    {
        try
        {
            var log = new ConsoleServerLog();
            using SecurityParts security = SecurityParts.Open(site.DataFolder, site.Table.Name, log);
            using var host = new PublicationHost(Options(site, endPoint, allowNone, log, security));
            host.Start();
            Console.WriteLine($"publishing on opc.tcp://{endPoint.Address}:{host.Port}");
            PublisherLife.Wait(host, kept);
            return ExitCode.Good;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or PkiException)
        {
            Console.Error.WriteLine($"edgeguard: the publisher cannot start: {e.Message}");
            return ExitCode.Unavailable;
        }
        catch (SocketException e)
        {
            Console.Error.WriteLine($"edgeguard: cannot listen on {endPoint.Address} port {endPoint.Port}: {Cause(e)}");
            return ExitCode.Unavailable;
        }
    }

    private static PublicationOptions Options(SiteConfiguration site, IPEndPoint endPoint, bool allowNone, ConsoleServerLog log, SecurityParts security) => new()
    {
        Site = site.Table,
        LinkNames = [.. site.Links.Select(static l => l.Name)],
        ProofTests = ProofTests(site),
        SiteDigest = Convert.FromHexString(site.SettingsDigest),
        RingPath = GuardHost.RingPath(site.DataFolder, site.RingFolder),
        JournalHeadPath = Path.Combine(site.DataFolder, GuardHost.JournalFolder, JournalHeadFile),
        EndPoint = endPoint,
        Version = Version(),
        Log = log,
        ApplicationUri = security.ApplicationUri,
        Instance = security.Instance,
        CertificateNotAfterUtc = security.Certificate.NotAfterUtc,
        Judge = security.Judge,
        DiscoveryServer = site.Publication.DiscoveryServer,
        DiscoveryJudge = security.DiscoveryJudge,
        RegisterEveryMs = site.Publication.RegisterSeconds * 1000,
        Users = security.Users,
        Requests = new SocketGuardRequests(site.DataFolder),
        AllowNone = allowNone || IPAddress.IsLoopback(endPoint.Address),
    };

    private static Dictionary<string, ProofTestFacts> ProofTests(SiteConfiguration site) => site.Table.Units
        .Zip(site.Units, static (table, unit) => (table.Name, Facts: new ProofTestFacts(unit.ProofTest?.Date, ProofTestDates.Due(unit))))
        .ToDictionary(static u => u.Name, static u => u.Facts, StringComparer.Ordinal);

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
