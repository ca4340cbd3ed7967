using System.Globalization;
using System.Text.Json;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Demo;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>The independent discovery server as a process of its own; it trusts everybody. One that is not installed is a failure, never a skip.</summary>
internal sealed class NodeDiscovery : IDisposable
{
    private const int PatienceMs = 60_000;

    private readonly ChildProcess _process;

    public NodeDiscovery(string folder, int port, bool old)
    {
        string modules = Repository.File("artifacts", "interop-node", "node_modules");
        Assert.True(Directory.Exists(Path.Combine(modules, "node-opcua-server-discovery")), "the independent discovery server is missing: run tests/tools/install-node-client");
        string[] age = old ? ["old"] : [];
        _process = ChildProcess.Start(["/usr/bin/env", "node"], Path.Combine(folder, "discovery.log"), [Repository.File("tests", "interop-node", "discovery.js"), modules, Path.Combine(folder, "discovery-pki"), port.ToString(CultureInfo.InvariantCulture), .. age]);
        Thumbprint = Await("ready").GetProperty("thumbprint").GetString()!;
    }

    /// <summary>SHA-1 of its certificate.</summary>
    public string Thumbprint { get; }

    /// <summary>Waits for an event; those before it are dropped.</summary>
    public JsonElement Await(string name)
    {
        for (; ; )
        {
            using JsonDocument line = JsonDocument.Parse(_process.NextLine(PatienceMs));
            if (line.RootElement.GetProperty("event").GetString() == name)
            {
                return line.RootElement.Clone();
            }
        }
    }

    public void Dispose() => _process.Dispose();
}
