using System.CommandLine;
using System.Globalization;
using System.Reflection;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Demo;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Guarding;
using Serilog;
using Serilog.Core;
using Serilog.Sinks.SystemConsole.Themes;

namespace EdgeGuard.Commands;

/// <summary>`edgeguard run`: loads a site completely or not at all, then guards until it is stopped.</summary>
internal static class RunCommand
{
    public static Command Create()
    {
        var site = new Argument<string>("SITE") { Description = "Site folder with site.json.", DefaultValueFactory = static _ => "." };
        var conducted = new Option<bool>("--conducted") { Description = "Scan on command instead of by the clock: one command a line on standard input (scan UTCMS, request JSON, stop)." };
        var group = new Option<string?>("--request-group") { Description = "Group whose members may use the request socket besides the guard's own user and root." };
        var mode = new Option<UnitMode?>("--mode") { Description = "Mode of all units instead of the one in the site file: observe or enforce." };
        var command = new Command("run", "Guard the units of a site. Example: edgeguard run /etc/edgeguard/site") { site, conducted, group, mode };
        command.SetAction(parsed => Run(parsed.GetValue(site)!, parsed.GetValue(conducted), parsed.GetValue(group), parsed.GetValue(mode)));
        return command;
    }

    private static int Run(string folder, bool conducted, string? group, UnitMode? mode)
    {
        SiteLoadResult loaded = SiteLoader.Load(folder, new SiteLoadOptions { Mode = mode });
        if (loaded.Site is null)
        {
            return SiteFolder.Refuse(loaded);
        }

        using Logger log = CreateLog();
        foreach (SiteFault warning in loaded.Site.Warnings)
        {
            log.Warning("{Warning}", warning.ToString());
        }

        GuardEnd end = GuardHost.Run(GuardPlanBuilder.Build(loaded.Site), new GuardOptions
        {
            Version = Version(),
            Log = log,
            RequestGroup = group,
            Publisher = loaded.Site.Publication.Enabled ? Publisher(loaded.Site) : null,
            Conductor = conducted ? ConductedConsole.Open(Console.In, Console.Out) : null,
        });
        return end switch
        {
            GuardEnd.Stopped => ExitCode.Good,
            GuardEnd.StoppedUnconfirmed => ExitCode.Found,
            GuardEnd.AlreadyRunning or GuardEnd.Unavailable => ExitCode.Unavailable,
            _ => ExitCode.Software,
        };
    }

    private static PublisherLaunch Publisher(SiteConfiguration site) => new()
    {
        Command =
        [
            .. ChildProcess.OwnProgram(), "publish", site.Folder, PublishCommand.UntilInputEnds,
            "--port", site.Publication.Port.ToString(CultureInfo.InvariantCulture), "--bind", site.Publication.Bind,
        ],
        MemoryLimitMb = site.Publication.MemoryLimitMb,
    };

    private static Logger CreateLog()
    {
        bool plain = Console.IsErrorRedirected || Environment.GetEnvironmentVariable("NO_COLOR") is { Length: > 0 };
        Logger console = new LoggerConfiguration()
            .WriteTo.Console(
                outputTemplate: "{Timestamp:yyyy-MM-ddTHH:mm:ss.fffZ} {Level:u3} {Message:l}{NewLine}{Exception}",
                formatProvider: CultureInfo.InvariantCulture,
                standardErrorFromLevel: Serilog.Events.LogEventLevel.Verbose,
                theme: plain ? ConsoleTheme.None : AnsiConsoleTheme.Literate)
            .CreateLogger();
        return new LoggerConfiguration().WriteTo.Sink(new WaitlessSink(console)).CreateLogger();
    }

    private static string Version() =>
        typeof(RunCommand).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "unknown";
}
