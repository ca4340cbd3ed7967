using System.Diagnostics;
using System.Text;

namespace EdgeGuard.Acceptance.Tests.Rigs;

/// <summary>
/// Runs a program to its end, as a person or a script does. A program that hangs falls silent, one on a loaded machine
/// does not: so what is limited is the time without a line of output, not the whole time.
/// </summary>
internal sealed record CommandLine(int ExitCode, string Output, string Errors)
{
    /// <summary>For programs that report progress; the demo prints a line at least every two simulated minutes.</summary>
    private const int SilenceMaxMs = 120_000;

    private const int LookMs = 500;

    public static CommandLine Run(params string[] arguments) => RunProgram(Repository.Program, arguments);

    public static CommandLine RunProgram(string program, params string[] arguments) => RunProgram(SilenceMaxMs, program, arguments);

    /// <summary>Runs a program that may be silent for a stated time.</summary>
    public static CommandLine RunProgram(int silenceMaxMs, string program, params string[] arguments)
    {
        var info = new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false, WorkingDirectory = Repository.Root };
        info.Environment["NO_COLOR"] = "1";
        using Process process = Process.Start(info) ?? throw new InvalidOperationException("could not start " + program);
        var output = new StringBuilder();
        var errors = new StringBuilder();
        long heardMs = Environment.TickCount64;
        process.OutputDataReceived += (_, e) => Hear(output, e.Data);
        process.ErrorDataReceived += (_, e) => Hear(errors, e.Data);
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        while (!process.WaitForExit(LookMs))
        {
            if (Environment.TickCount64 - Volatile.Read(ref heardMs) > silenceMaxMs)
            {
                process.Kill(entireProcessTree: true);
                Assert.Fail($"{program} {string.Join(' ', arguments)} said nothing for {silenceMaxMs} ms ({MachineLoad.Now()})");
            }
        }

        process.WaitForExit(); // without a limit it also waits for the rest of the output
        return new CommandLine(process.ExitCode, output.ToString(), errors.ToString());

        void Hear(StringBuilder text, string? line)
        {
            Volatile.Write(ref heardMs, Environment.TickCount64);
            if (line is not null)
            {
                text.Append(line).Append('\n');
            }
        }
    }
}
