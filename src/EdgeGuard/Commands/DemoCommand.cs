using System.CommandLine;
using System.Globalization;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Demo;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Commands;

/// <summary>`edgeguard demo`: the main job on a virtual plant, judged by an independent ledger.</summary>
internal static class DemoCommand
{
    private const string Description = "Guard two virtual heaters end to end and judge the result by the plant's own ledger. Exit code 0 only if every limit was kept. Example: edgeguard demo --mode observe";

    public static Command Create()
    {
        var mode = new Option<UnitMode>("--mode") { Description = "enforce: the guard acts; observe: it only watches while the same fault happens.", DefaultValueFactory = static _ => UnitMode.Enforce };
        var pace = new Option<double>("--pace") { Description = "Simulated seconds per second; 0 is as fast as possible. It only slows the demo.", DefaultValueFactory = static _ => 0 };
        var serve = new Option<bool>("--serve") { Description = "Go on in real time after the story, until Ctrl+C or SIGTERM." };
        var folder = new Option<string?>("--out") { Description = "Folder for site, journal, ledger and report; a new one in the temporary folder unless given." };
        var command = new Command("demo", Description) { mode, pace, serve, folder };
        command.SetAction(parsed => Run(new DemoOptions
        {
            Mode = parsed.GetValue(mode),
            Pace = parsed.GetValue(pace),
            Serve = parsed.GetValue(serve),
            Folder = parsed.GetValue(folder) ?? Path.Combine(Path.GetTempPath(), "edgeguard-demo-" + DateTime.UtcNow.ToString("yyyyMMdd-HHmmss-fff", CultureInfo.InvariantCulture)),
        }));
        return command;
    }

    private static int Run(DemoOptions options)
    {
        if (Directory.Exists(options.Folder) && Directory.EnumerateFileSystemEntries(options.Folder).Any())
        {
            Console.Error.WriteLine($"edgeguard: the folder {options.Folder} is not empty; expected an empty or new one; try another --out");
            return ExitCode.Usage;
        }

        using var cancelled = new CancellationTokenSource();
        using StopSignals signals = StopSignals.On(_ => Cancel(cancelled));
        try
        {
            return new DemoRun(options, Console.Out, !Console.IsOutputRedirected, cancelled.Token).Run();
        }
        catch (OperationCanceledException)
        {
            Console.Error.WriteLine("edgeguard: demo ended by the person; nothing was judged");
            return ExitCode.Found;
        }
        catch (Exception e) when (e is DemoException or ChildProcessException)
        {
            Console.Error.WriteLine($"edgeguard: the demo could not be played: {e.Message}; look into {options.Folder}/guard.log and plant.log");
            return ExitCode.Unavailable;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Console.Error.WriteLine($"edgeguard: --out {options.Folder}: the folder cannot be written; found \"{e.Message}\"; expected a place with write permission; try another folder");
            return ExitCode.Unavailable;
        }
    }

    private static void Cancel(CancellationTokenSource cancelled)
    {
        try
        {
            cancelled.Cancel();
        }
        catch (ObjectDisposedException)
        {
            // The demo has ended in this moment.
        }
    }
}
