using System.Diagnostics;
using System.Globalization;
using System.Net.Sockets;
using System.Text.Json;
using EdgeGuard.Demo;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Acceptance.Tests.Rigs;

/// <summary>The guard as its own process in real time, asked over its request socket.</summary>
internal sealed class GuardChild : IDisposable
{
    // Generous: on a loaded machine a start takes seconds, and what is limited here is the patience of the test.
    private const int PatienceMs = 120_000;

    private readonly ChildProcess _process;

    private GuardChild(ChildProcess process, string site)
    {
        _process = process;
        Data = Path.Combine(site, "data");
    }

    /// <summary>The data folder.</summary>
    public string Data { get; }

    public int Id => _process.Id;

    public bool HasExited => _process.HasExited;

    public int ExitCode => _process.ExitCode;

    /// <summary>Starts `run` and waits for the first scan.</summary>
    public static GuardChild Start(TestFolder folder, string site, params string[] environment)
    {
        ChildProcess process = ChildProcess.Start(["/usr/bin/env", .. environment, Repository.Program], folder.File("guard.log"), "run", site);
        var guard = new GuardChild(process, site);
        try
        {
            guard.Await("first scan", static s => s.Scan >= 0);
            return guard;
        }
        catch
        {
            guard.Dispose();
            throw;
        }
    }

    /// <summary>The status; null when nobody answers.</summary>
    public SiteStatus? TryStatus()
    {
        try
        {
            byte[] line = RequestClient.Exchange(Data, new RequestMessage { Kind = RequestReader.Status }, PatienceMs);
            return line.Length == 0 ? null : JsonSerializer.Deserialize(line, RequestJson.Default.SiteStatus);
        }
        catch (Exception e) when (e is SocketException or JsonException)
        {
            return null; // not there yet, gone, or all places taken
        }
    }

    /// <summary>Waits until the status fulfils a condition.</summary>
    public SiteStatus Await(string what, Func<SiteStatus, bool> condition, int limitMs = PatienceMs)
    {
        long end = Environment.TickCount64 + limitMs;
        SiteStatus? status;
        while ((status = TryStatus()) is null || !condition(status))
        {
            Assert.False(_process.HasExited, $"the guard ended while waiting for: {what}");
            Assert.True(Environment.TickCount64 < end, $"not within {limitMs} ms: {what}; the guard is at {Describe(status)} ({MachineLoad.Now()})");
            Thread.Sleep(20);
        }

        return status;
    }

    /// <summary>One request; an answer of any kind.</summary>
    public RequestAnswer Ask(string kind, string unit = "N-1")
    {
        byte[] line = RequestClient.Exchange(Data, new RequestMessage { Kind = kind, Unit = unit, Reason = "acceptance test", Person = "tester" }, PatienceMs);
        return JsonSerializer.Deserialize(line, RequestJson.Default.RequestAnswer) ?? throw new InvalidOperationException("empty answer");
    }

    /// <summary>Repeats a request until it is accepted: conditions such as a proved power-off need their time.</summary>
    public void AskUntilAccepted(string kind, string unit = "N-1", int limitMs = PatienceMs)
    {
        long end = Environment.TickCount64 + limitMs;
        RequestAnswer answer;
        while ((answer = Ask(kind, unit)).Result != "accepted")
        {
            Assert.True(Environment.TickCount64 < end, $"{kind} {unit} was not accepted within {limitMs} ms: {answer.Message}");
            Thread.Sleep(50);
        }
    }

    /// <summary>Reset and start; returns in pre-flow.</summary>
    public void StartUnit(string unit = "N-1")
    {
        AskUntilAccepted("reset", unit);
        AskUntilAccepted("start", unit);
    }

    /// <summary>State of a unit.</summary>
    public static string StateOf(SiteStatus status, string unit = "N-1") => status.Units.First(u => u.Name == unit).State;

    /// <summary>Opens the ring of this run.</summary>
    public ScanRingReader OpenRing() => new(Directory.EnumerateFiles(Path.Combine(Data, "ring")).Single());

    /// <summary>Ends the process without notice to it.</summary>
    public void Kill()
    {
        _process.Kill();
        Assert.True(_process.WaitForExit(PatienceMs));
    }

    /// <summary>Asks for an orderly end (SIGTERM) and returns the exit code.</summary>
    public int Terminate()
    {
        using (Process kill = Process.Start("/bin/kill", ["-TERM", _process.Id.ToString(CultureInfo.InvariantCulture)]))
        {
            kill.WaitForExit();
        }

        Assert.True(_process.WaitForExit(PatienceMs), "the guard did not end after SIGTERM");
        return _process.ExitCode;
    }

    public void Dispose() => _process.Dispose();

    private static string Describe(SiteStatus? status) =>
        status is null ? "no status" : string.Join(", ", status.Units.Select(static u => $"{u.Name} {u.State} {u.FirstOut} permit {u.Permit}"));
}
