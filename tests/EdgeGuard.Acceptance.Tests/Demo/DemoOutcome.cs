using System.Diagnostics;

namespace EdgeGuard.Acceptance.Tests.Demo;

/// <summary>One whole run of `edgeguard demo` as a user starts it: real process, own folder.</summary>
internal sealed record DemoOutcome(int ExitCode, string Text, string Folder, TimeSpan Time)
{
    private const int LimitMs = 180_000;

    public string Report => File.ReadAllText(Path.Combine(Folder, "report.html"));

    public static DemoOutcome Run(IReadOnlyList<string> program, params string[] arguments)
    {
        string folder = Path.Combine(Directory.CreateTempSubdirectory("edgeguard-demo-test").FullName, "out");
        var info = new ProcessStartInfo(program[0]) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        foreach (string argument in program.Skip(1).Concat(["demo", "--out", folder]).Concat(arguments))
        {
            info.ArgumentList.Add(argument);
        }

        var watch = Stopwatch.StartNew();
        using Process process = Process.Start(info)!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        Task<string> text = process.StandardOutput.ReadToEndAsync();
        if (!process.WaitForExit(LimitMs))
        {
            process.Kill(entireProcessTree: true);
            Assert.Fail($"the demo did not end within {LimitMs} ms");
        }

        return new DemoOutcome(process.ExitCode, text.GetAwaiter().GetResult() + errors.GetAwaiter().GetResult(), folder, watch.Elapsed);
    }
}
