using EdgeGuard.Acceptance.Tests.Rigs;

namespace EdgeGuard.Acceptance.Tests.Demo;

/// <summary>One whole run of `edgeguard demo` as a user starts it: real process, own folder.</summary>
internal sealed record DemoOutcome(int ExitCode, string Text, string Folder)
{
    public string Report => File.ReadAllText(Path.Combine(Folder, "report.html"));

    public static DemoOutcome Run(IReadOnlyList<string> program, params string[] arguments)
    {
        string folder = Path.Combine(Directory.CreateTempSubdirectory("edgeguard-demo-test").FullName, "out");
        CommandLine run = CommandLine.RunProgram(program[0], [.. program.Skip(1), "demo", "--out", folder, .. arguments]);
        return new DemoOutcome(run.ExitCode, run.Output + run.Errors, folder);
    }
}
