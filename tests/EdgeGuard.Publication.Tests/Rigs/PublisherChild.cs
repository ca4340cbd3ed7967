using System.Diagnostics;
using System.Globalization;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Demo;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>`edgeguard publish` as a process of its own.</summary>
internal sealed class PublisherChild : IDisposable
{
    private readonly ChildProcess _process;

    public PublisherChild(TestFolder folder, string site, int port = 0, params string[] options)
        : this(folder, site, [], port, options)
    {
    }

    /// <summary>With variables of the environment, NAME=VALUE each.</summary>
    public PublisherChild(TestFolder folder, string site, IReadOnlyList<string> environment, int port = 0, params string[] options)
    {
        _process = ChildProcess.Start(["/usr/bin/env", .. environment, Repository.Program], folder.File("publisher.log"), ["publish", site, "--port", port.ToString(CultureInfo.InvariantCulture), .. options]);
        string line = _process.WaitForLine("publishing on", 60_000);
        Port = int.Parse(line[(line.LastIndexOf(':') + 1)..], CultureInfo.InvariantCulture);
    }

    public int Port { get; }

    public int Id => _process.Id;

    /// <summary>Asks for an orderly end (SIGTERM) and waits for it.</summary>
    public void Terminate()
    {
        using (Process kill = Process.Start("/bin/kill", ["-TERM", Id.ToString(CultureInfo.InvariantCulture)]))
        {
            kill.WaitForExit();
        }

        Assert.True(_process.WaitForExit(30_000), "the publisher did not end after SIGTERM");
    }

    public void Kill()
    {
        _process.Kill();
        Assert.True(_process.WaitForExit(10_000));
    }

    public void Dispose() => _process.Dispose();
}
