using System.CommandLine;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.ReactionTimes;

namespace EdgeGuard.Commands;

/// <summary>
/// `edgeguard check FOLDER`: loads a site as `run` does and prints every fault, or what the site amounts to; with
/// `--matrix` its cause-and-effect matrix, with `--against` what differs from another site, in words.
/// </summary>
internal static class CheckCommand
{
    public static Command Create()
    {
        var folder = new Argument<string>("FOLDER") { Description = "Site folder with site.json and its register maps." };
        var json = new Option<bool>("--json") { Description = "Print one JSON object instead of text." };
        var matrix = new Option<string>("--matrix") { Description = "Print the cause-and-effect matrix of the site instead: text, csv or html." };
        matrix.AcceptOnlyFromAmong("text", "csv", "html");
        var against = new Option<string>("--against") { Description = "Print what differs in this other site folder, in words; FOLDER is the site as it was." };
        var command = new Command("check", "Check a site folder without starting anything: all faults with line and column, or a summary. Example: edgeguard check config/pilot-hall")
        {
            folder,
            json,
            matrix,
            against,
        };
        command.Validators.Add(parsed =>
        {
            if (new Option[] { json, matrix, against }.Count(o => parsed.GetResult(o) is not null) > 1)
            {
                parsed.AddError("--json, --matrix, --against: found more than one; expected one of them, each is an output of its own; try them one after the other");
            }
        });
        command.SetAction(parsed =>
        {
            string site = parsed.GetValue(folder)!;
            if (parsed.GetValue(matrix) is { } format)
            {
                return Matrix(site, format, Console.Out);
            }

            return parsed.GetValue(against) is { } other ? Compare(site, other, Console.Out) : Run(site, parsed.GetValue(json), Console.Out);
        });
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
            WriteFaults(folder, result, output);
        }

        return result.Site is null ? ExitCode.Found : ExitCode.Good;
    }

    /// <summary>The cause-and-effect matrix; a site with faults has none.</summary>
    internal static int Matrix(string folder, string format, TextWriter output)
    {
        SiteLoadResult result = SiteLoader.Load(folder);
        if (result.Site is not { } site)
        {
            WriteFaults(folder, result, output);
            return ExitCode.Found;
        }

        output.Write(format switch
        {
            "csv" => EffectMatrixText.Csv(EffectMatrix.Of(site)),
            "html" => MatrixPage.Write(site),
            _ => EffectMatrixText.Text(EffectMatrix.Of(site)),
        });
        return ExitCode.Good;
    }

    /// <summary>What differs, line by line; exit code 0 when nothing does, 1 when something does or a site has faults.</summary>
    internal static int Compare(string folder, string other, TextWriter output)
    {
        SiteLoadResult before = SiteLoader.Load(folder);
        SiteLoadResult after = SiteLoader.Load(other);
        if (before.Site is null || after.Site is null)
        {
            WriteFaults(folder, before, output);
            WriteFaults(other, after, output);
            return ExitCode.Found;
        }

        IReadOnlyList<string> lines = SiteComparison.Words(before.Site, after.Site);
        foreach (string line in lines)
        {
            output.WriteLine(line);
        }

        output.WriteLine(lines.Count == 0 ? "No difference: the settings digests are the same." : $"{Counted.Of(lines.Count, "difference")}. {ReactionBudget.Caveat}");
        return lines.Count == 0 ? ExitCode.Good : ExitCode.Found;
    }

    private static void WriteFaults(string folder, SiteLoadResult result, TextWriter output)
    {
        if (result.Faults.Count == 0)
        {
            return;
        }

        foreach (SiteFault fault in result.Faults)
        {
            output.WriteLine(Path.Combine(folder, fault.ToString()));
        }

        output.WriteLine($"{Counted.Of(result.Faults.Count, "fault")}: nothing would be started.");
    }
}
