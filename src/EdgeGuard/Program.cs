using System.CommandLine;
using EdgeGuard.Commands;

namespace EdgeGuard;

/// <summary>Entry point: parses the command line, runs one command, returns its exit code.</summary>
internal static class Program
{
    private static int Main(string[] args)
    {
        var root = new RootCommand("Supervisory software interlocks for electric process-gas heaters. A supplement to hardwired safety, never its replacement.")
        {
            InitCommand.Create(),
            CheckCommand.Create(),
            ProbeCommand.Create(),
            CalcCommand.Create(),
            PlantCommand.Create(),
            RunCommand.Create(),
            PublishCommand.Create(),
            RequestCommand.Create(),
            StatusCommand.Create(),
            JournalCommand.Create(),
            DemoCommand.Create(),
            CertsCommand.Create(),
            UsersCommand.Create(),
            VersionCommand.Create(),
        };
        ParseResult parsed = root.Parse(args);
        if (parsed.Errors.Count > 0)
        {
            foreach (var error in parsed.Errors)
            {
                Console.Error.WriteLine($"edgeguard: {error.Message}");
            }

            Console.Error.WriteLine("Try: edgeguard --help");
            return ExitCode.Usage;
        }

        return parsed.Invoke();
    }
}
