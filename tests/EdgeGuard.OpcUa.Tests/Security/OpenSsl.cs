using System.Diagnostics;

namespace EdgeGuard.OpcUa.Tests.Security;

/// <summary>The published program openssl as the outside judge and maker; its absence fails the tests.</summary>
internal sealed class OpenSsl : IDisposable
{
    private const int LimitMs = 60_000;

    public string Folder { get; } = Directory.CreateTempSubdirectory("edgeguard-openssl-").FullName;

    public string File(string name) => Path.Combine(Folder, name);

    public byte[] Read(string name) => System.IO.File.ReadAllBytes(File(name));

    public void Write(string name, string text) => System.IO.File.WriteAllText(File(name), text);

    /// <summary>Runs it in the folder; the exit code has to be 0.</summary>
    public string Run(string arguments)
    {
        int code = TryRun(arguments, out string output);
        Assert.True(code == 0, $"openssl {arguments}: exit {code}\n{output}");
        return output;
    }

    public int TryRun(string arguments, out string output)
    {
        var start = new ProcessStartInfo("openssl", arguments) { WorkingDirectory = Folder, RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true, UseShellExecute = false };
        using Process process = Process.Start(start) ?? throw new InvalidOperationException("openssl does not start: install it");
        process.StandardInput.Close();
        Task<string> error = process.StandardError.ReadToEndAsync();
        output = process.StandardOutput.ReadToEnd() + error.GetAwaiter().GetResult();
        Assert.True(process.WaitForExit(LimitMs), "openssl does not end");
        return process.ExitCode;
    }

    public void Dispose() => Directory.Delete(Folder, recursive: true);
}
