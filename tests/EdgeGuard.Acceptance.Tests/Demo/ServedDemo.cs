using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using EdgeGuard.Acceptance.Tests.Guarding;

namespace EdgeGuard.Acceptance.Tests.Demo;

/// <summary>`edgeguard demo --serve` as a user has it in one terminal, with `edgeguard status` in another.</summary>
internal sealed class ServedDemo : IDisposable
{
    private const int LimitMs = 180_000;
    private readonly string _folder = Path.Combine(Directory.CreateTempSubdirectory("edgeguard-demo-test").FullName, "out");
    private readonly Process _demo;

    public ServedDemo() => _demo = Start("demo", "--serve", "--out", _folder);

    public void WaitUntilServing()
    {
        while (_demo.StandardOutput.ReadLine() is { } line)
        {
            if (line.StartsWith("Going on in real time", StringComparison.Ordinal))
            {
                return;
            }
        }

        Assert.Fail("the demo ended before it served: " + _demo.StandardError.ReadToEnd());
    }

    public string Status(params string[] more)
    {
        using Process status = Start(["status", "--site", Path.Combine(_folder, "site"), .. more]);
        string text = status.StandardOutput.ReadToEnd();
        status.WaitForExit();
        return text;
    }

    /// <summary>Simulated time of the latest scan.</summary>
    public DateTimeOffset LastScan()
    {
        using JsonDocument status = JsonDocument.Parse(Status("--json"));
        return DateTimeOffset.FromUnixTimeMilliseconds(status.RootElement.GetProperty("utc_unix_ms").GetInt64());
    }

    /// <summary>SIGTERM, which no shell has ignored for its background processes.</summary>
    public void Terminate()
    {
        using Process kill = Process.Start("kill", ["-s", "TERM", _demo.Id.ToString(CultureInfo.InvariantCulture)]);
        kill.WaitForExit();
        Assert.Equal(0, kill.ExitCode);
    }

    public int WaitForExit()
    {
        Assert.True(_demo.WaitForExit(LimitMs), "the demo did not end after SIGTERM");
        return _demo.ExitCode;
    }

    public string Rest() => _demo.StandardOutput.ReadToEnd();

    public void Dispose()
    {
        if (!_demo.HasExited)
        {
            _demo.Kill(entireProcessTree: true);
        }

        _demo.Dispose();
    }

    private static Process Start(params string[] arguments) => Process.Start(
        new ProcessStartInfo(GuardRig.Program[0], arguments) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false })!;
}
