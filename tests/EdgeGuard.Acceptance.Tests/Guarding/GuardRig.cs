using System.Text.Json;
using System.Text.RegularExpressions;
using EdgeGuard.Demo;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Acceptance.Tests.Guarding;

/// <summary>The real plant and the real guard as processes, on a copy of the example site with free ports.</summary>
internal sealed partial class GuardRig : IDisposable
{
    /// <summary>For what comes by itself, however busy or slow the machine is.</summary>
    public const int PatienceMs = 120_000;

    private readonly string _folder = Directory.CreateTempSubdirectory("edgeguard").FullName;
    private readonly bool _conducted;
    private long _utcMs = 1_764_000_000_000;

    public GuardRig(bool conducted, Func<string, string>? edit = null)
    {
        _conducted = conducted;
        Plant = Start("plant", conducted ? ["plant", "--conducted", "--quiet", "--port", "0"] : ["plant", "--quiet", "--port", "0"]);
        string[] ports = [.. Port().Matches(Plant.WaitForLine("ready", PatienceMs)).Select(m => m.Groups[1].Value)];
        Site = Path.Combine(_folder, "site");
        Directory.CreateDirectory(Site);
        foreach (string file in Directory.GetFiles(Path.Combine(RepoRoot(), "config", "pilot-hall")))
        {
            File.Copy(file, Path.Combine(Site, Path.GetFileName(file)));
        }

        string json = Path.Combine(Site, "site.json");
        string text = File.ReadAllText(json).Replace("15020", ports[0], StringComparison.Ordinal).Replace("15021", ports[1], StringComparison.Ordinal);
        File.WriteAllText(json, edit is null ? text : edit(text));
        Guard = StartGuard();
    }

    public string Site { get; }

    public string Data => Path.Combine(Site, "data");

    public ChildProcess Plant { get; }

    public ChildProcess Guard { get; private set; }

    /// <summary>Every answer of the guard to a conducted scan.</summary>
    public List<string> Answers { get; } = [];

    public static string[] Program => [Path.Combine(AppContext.BaseDirectory, OperatingSystem.IsWindows() ? "edgeguard.exe" : "edgeguard")];

    public void RestartGuard()
    {
        Guard.Dispose();
        Guard = StartGuard();
    }

    /// <summary>One round of plant and guard; the state of N-1.</summary>
    public JsonElement Scan()
    {
        Plant.Ask("advance 100", PatienceMs);
        _utcMs += 100;
        string line = Guard.Ask($"scan {_utcMs}", PatienceMs);
        Answers.Add(line);
        using var json = JsonDocument.Parse(line[line.IndexOf('{', StringComparison.Ordinal)..]);
        return json.RootElement.GetProperty("units")[0].Clone();
    }

    public JsonElement ScanUntil(Func<JsonElement, bool> reached, int scansMax)
    {
        for (int i = 0; i < scansMax; i++)
        {
            JsonElement unit = Scan();
            if (reached(unit))
            {
                return unit;
            }
        }

        throw new InvalidOperationException($"not reached in {scansMax} scans; last answer: {Answers[^1]}");
    }

    public void ConductedRequest(string kind) =>
        Assert.StartsWith("request ", Guard.Ask($"request {{\"kind\":\"{kind}\",\"unit\":\"N-1\",\"reason\":\"acceptance\"}}"), StringComparison.Ordinal);

    /// <summary>A request over the real socket.</summary>
    public RequestAnswer Request(string kind) =>
        JsonSerializer.Deserialize(RequestClient.Exchange(Data, new RequestMessage { Kind = kind, Unit = "N-1", Reason = "acceptance" }, PatienceMs), RequestJson.Default.RequestAnswer)!;

    public SiteStatus Status() =>
        JsonSerializer.Deserialize(RequestClient.Exchange(Data, new RequestMessage { Kind = RequestReader.Status }, PatienceMs), RequestJson.Default.SiteStatus)!;

    public SiteStatus StatusUntil(Func<SiteStatus, bool> reached, int limitMs = PatienceMs)
    {
        SiteStatus? last = null;
        bool done = SpinWait.SpinUntil(
            () =>
            {
                Thread.Sleep(100);
                last = File.Exists(RequestClient.SocketPath(Data)) ? TryStatus() : null;
                return last is not null && reached(last);
            },
            limitMs);
        Assert.True(done, $"not reached in {limitMs} ms; last state {last?.Units[0].State}, first out {last?.Units[0].FirstOut}");
        return last!;
    }

    /// <summary>Lines of the journal, after it has been verified as a whole.</summary>
    public string[] Journal()
    {
        string folder = Path.Combine(Data, "journal");
        using var storage = new FileJournalStorage(folder);
        Assert.True(JournalVerifier.Verify(storage).IsWhole);
        return [.. Directory.GetFiles(folder, "*.log").Order(StringComparer.Ordinal).SelectMany(File.ReadLines)];
    }

    public ChildProcess Start(string name, params string[] arguments) => ChildProcess.Start(Program, Path.Combine(_folder, name + ".err"), arguments);

    public string ErrorLog(string name) => Path.Combine(_folder, name + ".err");

    public void Dispose()
    {
        Guard.Dispose();
        Plant.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    private ChildProcess StartGuard()
    {
        ChildProcess guard = Start("guard", _conducted ? ["run", Site, "--conducted"] : ["run", Site]);
        if (_conducted)
        {
            guard.WaitForLine("ready", PatienceMs);
        }

        return guard;
    }

    private SiteStatus? TryStatus()
    {
        try
        {
            return Status();
        }
        catch (System.Net.Sockets.SocketException)
        {
            return null; // The socket file of a killed guard stays until the next one replaces it.
        }
    }

    private static string RepoRoot()
    {
        for (DirectoryInfo? d = new(AppContext.BaseDirectory); d is not null; d = d.Parent)
        {
            if (File.Exists(Path.Combine(d.FullName, "EdgeGuard.sln")))
            {
                return d.FullName;
            }
        }

        throw new InvalidOperationException("EdgeGuard.sln not found above " + AppContext.BaseDirectory);
    }

    [GeneratedRegex("127\\.0\\.0\\.1:(\\d+)")]
    private static partial Regex Port();
}
