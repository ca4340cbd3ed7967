using System.CommandLine;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Commands;

/// <summary>
/// `edgeguard init FOLDER`: writes a commented site that passes `check` as it is. Its units observe: the first contact
/// with a cabinet decides and records but writes nothing.
/// </summary>
internal static class InitCommand
{
    private const int MostUnits = 100;

    public static Command Create()
    {
        var folder = new Argument<string>("FOLDER") { Description = "New or empty folder." };
        var units = new Option<int>("--units") { Description = "Number of heaters, 1 to 100.", DefaultValueFactory = _ => 1 };
        units.Validators.Add(result =>
        {
            if (result.Tokens.Count == 1 && int.TryParse(result.Tokens[0].Value, out int count) && count is < 1 or > MostUnits)
            {
                result.AddError($"--units: number of heaters out of range; found {count}; expected 1 to {MostUnits}; try --units 2");
            }
        });
        var command = new Command("init", "Write a commented site folder to start from. Example: edgeguard init my-site --units 2")
        {
            folder,
            units,
        };
        command.SetAction(parsed => Run(parsed.GetValue(folder)!, parsed.GetValue(units), Console.Out, Console.Error));
        return command;
    }

    internal static int Run(string folder, int units, TextWriter output, TextWriter errors)
    {
        if (File.Exists(folder) || (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any()))
        {
            string found = File.Exists(folder) ? "a file" : $"\"{Path.GetFileName(Directory.EnumerateFileSystemEntries(folder).First())}\" and perhaps more";
            errors.WriteLine($"edgeguard: {folder}: nothing was written; found {found}; expected a new or empty folder; try another name");
            return ExitCode.Usage;
        }

        try
        {
            Directory.CreateDirectory(folder);
            File.WriteAllText(Path.Combine(folder, ExampleFiles.SiteFile), InitTemplate.Write(units));
            File.WriteAllText(Path.Combine(folder, ExampleFiles.CabinetMap), ExampleFiles.Read(ExampleFiles.CabinetMap));
            File.WriteAllText(Path.Combine(folder, ExampleFiles.MeterMap), ExampleFiles.Read(ExampleFiles.MeterMap));
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            errors.WriteLine($"edgeguard: {folder}: the folder cannot be written; found \"{fault.Message}\"; expected a place with write permission; try another folder");
            return ExitCode.Unavailable;
        }

        if (SiteLoader.Load(folder).Faults is { Count: > 0 } faults)
        {
            throw new InvalidOperationException($"The site just written has faults: {faults[0]}");
        }

        WriteNextSteps(folder, output);
        return ExitCode.Good;
    }

    private static void WriteNextSteps(string folder, TextWriter output)
    {
        output.WriteLine($"Written: {Path.Combine(folder, ExampleFiles.SiteFile)}, {ExampleFiles.CabinetMap}, {ExampleFiles.MeterMap}. All units observe; nothing is written to a cabinet.");
        output.WriteLine("Next:");
        output.WriteLine($"  edgeguard check {folder}   # after each change: all faults at once, or a summary");
        output.WriteLine("  edgeguard plant            # a virtual cabinet to try it with, in a second terminal");
        output.WriteLine($"  edgeguard run {folder}     # start guarding; edgeguard status --site {folder} shows it from another terminal");
    }
}
