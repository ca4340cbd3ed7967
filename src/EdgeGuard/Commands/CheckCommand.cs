using System.CommandLine;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Commands;

/// <summary>`edgeguard check FOLDER`: loads a site as `run` does and prints every fault, or what the site amounts to.</summary>
internal static class CheckCommand
{
    public static Command Create()
    {
        var folder = new Argument<string>("FOLDER") { Description = "Site folder with site.json and its register maps." };
        var json = new Option<bool>("--json") { Description = "Print one JSON object instead of text." };
        var command = new Command("check", "Check a site folder without starting anything: all faults with line and column, or a summary. Example: edgeguard check config/pilot-hall")
        {
            folder,
            json,
        };
        command.SetAction(parsed => Run(parsed.GetValue(folder)!, parsed.GetValue(json), Console.Out));
        return command;
    }

    /// <summary>Exit code 0 without fault, 1 with faults; `run` refuses the same site with 78.</summary>
    internal static int Run(string folder, bool json, TextWriter output)
    {
        SiteLoadResult result = SiteLoader.Load(folder);
        if (json)
        {
            output.WriteLine(CheckJson.Write(result));
        }
        else if (result.Site is { } site)
        {
            CheckSummary.Write(site, folder, output);
        }
        else
        {
            foreach (SiteFault fault in result.Faults)
            {
                output.WriteLine(Path.Combine(folder, fault.ToString()));
            }

            output.WriteLine($"{result.Faults.Count} fault{(result.Faults.Count == 1 ? string.Empty : "s")}: nothing would be started.");
        }

        return result.Site is null ? ExitCode.Found : ExitCode.Good;
    }
}
