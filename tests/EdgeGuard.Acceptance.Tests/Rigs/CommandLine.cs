using System.Diagnostics;

namespace EdgeGuard.Acceptance.Tests.Rigs;

/// <summary>Runs the program to its end, as a person or a script does.</summary>
internal sealed record CommandLine(int ExitCode, string Output, string Errors)
{
    private const int LimitMs = 120_000;

    public static CommandLine Run(params string[] arguments) => RunProgram(Repository.Program, arguments);

    public static CommandLine RunProgram(string program, params string[] arguments)
    {
        var info = new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false, WorkingDirectory = Repository.Root };
        info.Environment["NO_COLOR"] = "1";
        using Process process = Process.Start(info) ?? throw new InvalidOperationException("could not start " + program);
        Task<string> errors = process.StandardError.ReadToEndAsync();
        Task<string> output = process.StandardOutput.ReadToEndAsync();
        if (!process.WaitForExit(LimitMs))
        {
            process.Kill(entireProcessTree: true);
            Assert.Fail($"{program} {string.Join(' ', arguments)} did not end within {LimitMs} ms");
        }

        return new CommandLine(process.ExitCode, output.GetAwaiter().GetResult(), errors.GetAwaiter().GetResult());
    }
}
