using System.CommandLine;
using System.CommandLine.Parsing;
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
        // An empty argument is a variable of the shell that is not set; no folder, file or name is empty.
        if (Array.IndexOf(args, string.Empty) is >= 0 and var empty)
        {
            Console.Error.WriteLine($"edgeguard: argument {empty + 1} is empty; found \"\"; expected a folder, a name or a text; try to look whether a variable of the shell is not set");
            return ExitCode.Usage;
        }

        ParseResult parsed = root.Parse(args);
        if (parsed.Errors.Count > 0)
        {
            Complain(parsed, args);
            return ExitCode.Usage;
        }

        try
        {
            return parsed.Invoke(new InvocationConfiguration { EnableDefaultExceptionHandler = false });
        }
        catch (Exception fault)
        {
            Console.Error.WriteLine($"edgeguard: fault of the program: {fault}");
            return ExitCode.Software;
        }
    }

    /// <summary>What is wrong with the command line, in words of a person and not of the parser.</summary>
    private static void Complain(ParseResult parsed, string[] args)
    {
        string[] names = [.. parsed.RootCommandResult.Command.Subcommands.Select(c => c.Name)];
        if (args.Length > 0 && !args[0].StartsWith('-') && !names.Contains(args[0], StringComparer.Ordinal))
        {
            Console.Error.WriteLine($"edgeguard: unknown command; found \"{args[0]}\"; expected one of {string.Join(", ", names)}; try edgeguard --help");
            return;
        }

        foreach (var error in parsed.Errors)
        {
            Console.Error.WriteLine($"edgeguard: {Plain(error.Message, parsed.CommandResult.Command)}");
        }

        Console.Error.WriteLine($"Try: edgeguard {Path(parsed.CommandResult)}--help");
    }

    /// <summary>The command with those above it, as it is typed: "journal show ".</summary>
    private static string Path(CommandResult command) =>
        command.Parent is CommandResult above ? $"{Path(above)}{command.Command.Name} " : string.Empty;

    /// <summary>The parser puts choices below each other, in quotes or as they are called inside; here they stand in one line.</summary>
    private static string Plain(string message, Command command)
    {
        if (message.StartsWith("Required command was not provided", StringComparison.Ordinal))
        {
            return "a command is missing; expected one of " + string.Join(", ", command.Subcommands.Select(static c => c.Name));
        }

        foreach (string heading in (string[])[". Must be one of:", ". Did you mean one of the following?"])
        {
            int at = message.IndexOf(heading, StringComparison.Ordinal);
            if (at >= 0)
            {
                string[] choices = message[(at + heading.Length)..].Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
                bool quoted = choices.All(static c => c.StartsWith('\''));
                return $"{WithoutType(message[..at])}; expected one of {string.Join(", ", choices.Select(c => quoted ? c.Trim('\'') : c.ToLowerInvariant()))}";
            }
        }

        return WithoutType(message);
    }

    /// <summary>"as expected type 'System.Int32'" is no help to somebody who typed a letter.</summary>
    private static string WithoutType(string message)
    {
        const string Type = " as expected type '";
        int start = message.IndexOf(Type, StringComparison.Ordinal);
        int end = start < 0 ? -1 : message.IndexOf('\'', start + Type.Length);
        if (end < 0)
        {
            return message;
        }

        string type = message[(start + Type.Length)..end];
        string expected = type.Contains("System.Int", StringComparison.Ordinal) ? "; expected a whole number" : type.Contains("System.Double", StringComparison.Ordinal) ? "; expected a number" : string.Empty;
        return message[..start] + expected + message[(end + 1)..];
    }
}
