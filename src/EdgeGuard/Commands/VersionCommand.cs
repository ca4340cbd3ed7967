using System.CommandLine;
using System.Reflection;

namespace EdgeGuard.Commands;

/// <summary>`edgeguard version`: prints the version and nothing else.</summary>
internal static class VersionCommand
{
    public static Command Create()
    {
        var command = new Command("version", "Print the version.");
        command.SetAction(_ =>
        {
            Console.WriteLine(typeof(VersionCommand).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion);
            return ExitCode.Good;
        });
        return command;
    }
}
