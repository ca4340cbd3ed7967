using System.Collections.Concurrent;
using System.Text.Json;
using System.Text.Json.Nodes;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Demo;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>The independent client as a process of its own. A client that is not installed is a failure, never a skip.</summary>
internal sealed class NodeClient : IDisposable
{
    private const int AnswerMs = 60_000;

    private readonly ChildProcess _process;
    private readonly BlockingCollection<JsonElement> _answers = [];
    private readonly Thread _reader;

    public NodeClient(string folder)
    {
        string modules = Repository.File("artifacts", "interop-node", "node_modules");
        Assert.True(Directory.Exists(modules), "the independent client is missing: run tests/tools/install-node-client");
        PkiFolder = Path.Combine(folder, "client-pki");
        _process = ChildProcess.Start(["/usr/bin/env", "node"], Path.Combine(folder, "client.log"), Repository.File("tests", "interop-node", "client.js"), modules, PkiFolder);
        _reader = new Thread(ReadAll) { IsBackground = true, Name = "client output" };
        _reader.Start();
        Await("ready", static e => Is(e, "ready"));
    }

    public string PkiFolder { get; }

    /// <summary>What came unasked, in order.</summary>
    public BlockingCollection<JsonElement> Events { get; } = [];

    /// <summary>One command; fails the test when the client says it failed.</summary>
    public JsonElement Ask(JsonObject command)
    {
        JsonElement answer = TryAsk(command);
        Assert.True(answer.GetProperty("ok").GetBoolean(), $"{command.ToJsonString()}: {answer}");
        return answer;
    }

    public JsonElement TryAsk(JsonObject command)
    {
        _process.Tell(command.ToJsonString());
        Assert.True(_answers.TryTake(out JsonElement answer, AnswerMs), $"no answer to {command.ToJsonString()}");
        return answer;
    }

    public JsonElement Connect(int port, string policy = "None", string mode = "None", string? user = null, string? password = null, int retries = 0, int tokenLifetimeMs = 600_000, int sessionTimeoutMs = 60_000) =>
        TryAsk(new JsonObject { ["cmd"] = "connect", ["url"] = $"opc.tcp://127.0.0.1:{port}", ["policy"] = policy, ["mode"] = mode, ["user"] = user, ["password"] = password, ["retries"] = retries, ["tokenLifetime"] = tokenLifetimeMs, ["sessionTimeout"] = sessionTimeoutMs });

    public JsonElement[] Read(params string[] nodes) =>
        [.. Ask(new JsonObject { ["cmd"] = "read", ["nodes"] = new JsonArray([.. nodes.Select(static n => (JsonNode)n)]) }).GetProperty("values").EnumerateArray()];

    public void Subscribe(double intervalMs = 100) => Ask(new JsonObject { ["cmd"] = "subscribe", ["interval"] = intervalMs });

    public void Monitor(string node, uint queue = 1, bool discardOldest = true, double samplingMs = 0, double? deadband = null, bool stamps = false)
    {
        // With stamps: a new reading is a change even when its value is the same.
        var command = new JsonObject { ["cmd"] = "monitor", ["node"] = node, ["queue"] = queue, ["discardOldest"] = discardOldest, ["sampling"] = samplingMs, ["stamps"] = stamps };
        if (deadband is not null)
        {
            command["deadband"] = deadband;
        }

        Ask(command);
    }

    /// <summary>Waits for an event; those before it are dropped.</summary>
    public JsonElement Await(string what, Func<JsonElement, bool> condition, int limitMs = AnswerMs)
    {
        long end = Environment.TickCount64 + limitMs;
        while (Events.TryTake(out JsonElement e, (int)Math.Max(0, end - Environment.TickCount64)))
        {
            if (condition(e))
            {
                return e;
            }
        }

        Assert.Fail($"not within {limitMs} ms: {what}");
        return default;
    }

    /// <summary>Waits for a change of a node that fulfils a condition.</summary>
    public JsonElement AwaitChange(string node, Func<JsonElement, bool> condition, int limitMs = AnswerMs) =>
        Await($"change of {node}", e => Is(e, "change") && e.GetProperty("node").GetString() == node && condition(e), limitMs);

    public static bool Is(JsonElement e, string kind) => e.GetProperty("event").GetString() == kind;

    public void Dispose()
    {
        _process.Dispose();
        _answers.Dispose();
        Events.Dispose();
    }

    private void ReadAll()
    {
        try
        {
            while (true)
            {
                JsonElement line = JsonDocument.Parse(_process.NextLine(int.MaxValue)).RootElement;
                (line.TryGetProperty("event", out _) ? Events : _answers).Add(line);
            }
        }
        catch (Exception e) when (e is ChildProcessException or ObjectDisposedException or InvalidOperationException)
        {
            // The process ended; whoever waits runs into its limit and says for what.
        }
    }
}
