using System.Globalization;
using System.Text.Json;
using EdgeGuard.Service.Requests;
using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Ledger;

namespace EdgeGuard.Demo;

/// <summary>
/// The conductor: a plant process and a guard process in lock-step, one scan a round. The two know each other only
/// through Modbus over real sockets; orders of a person go through the guard's real request socket. Simulated time
/// starts in the past and advances with the rounds.
/// </summary>
internal sealed class DemoRig : IDisposable
{
    private const int RequestLimitMs = 20_000;
    private readonly ChildProcess _plant;
    private readonly ChildProcess _guard;
    private readonly string _dataFolder;
    private readonly DateTimeOffset _start;

    private DemoRig(ChildProcess plant, ChildProcess guard, string siteFolder, DateTimeOffset start)
    {
        _plant = plant;
        _guard = guard;
        SiteFolder = siteFolder;
        _dataFolder = Path.Combine(siteFolder, "data");
        _start = start;
        Now = start;
    }

    /// <summary>Length of a round, ms: the scan period of the pilot hall.</summary>
    public const int RoundMs = 100;

    /// <summary>Called after each round.</summary>
    public Action<GuardRound>? AfterRound { get; set; }

    public string SiteFolder { get; }

    /// <summary>Simulated time.</summary>
    public DateTimeOffset Now { get; private set; }

    /// <summary>Simulated seconds since the start.</summary>
    public double Seconds => (Now - _start).TotalSeconds;

    /// <summary>The latest answer of the guard.</summary>
    public GuardRound Last { get; private set; } = new([], [], double.NaN);

    /// <summary>Starts both processes in a folder.</summary>
    public static DemoRig Start(DemoOptions options, DateTimeOffset start)
    {
        string started = start.UtcDateTime.ToString("yyyy-MM-ddTHH:mm:ss.fffZ", CultureInfo.InvariantCulture);
        ChildProcess plant = ChildProcess.Start(
            Path.Combine(options.Folder, "plant.log"), "plant", "--conducted", "--quiet", "--port", "0", "--profile", "N-1,A-1", "--start", started, "--ledger", Path.Combine(options.Folder, "ledger.jsonl"));
        try
        {
            IReadOnlyList<int> ports = Ports(plant.WaitForLine("ready"));
            string site = DemoSite.Write(Path.Combine(options.Folder, "site"), ports);
            ChildProcess guard = ChildProcess.Start(
                Path.Combine(options.Folder, "guard.log"), "run", site, "--conducted", "--mode", options.Mode == Core.Interlocks.UnitMode.Observe ? "observe" : "enforce");
            guard.WaitForLine("ready");
            return new DemoRig(plant, guard, site, start);
        }
        catch
        {
            plant.Dispose();
            throw;
        }
    }

    /// <summary>Advances plant and guard by one scan.</summary>
    public GuardRound Round()
    {
        string at = _plant.Ask("advance 100");
        if (!at.StartsWith("at ", StringComparison.Ordinal))
        {
            throw new DemoException($"the plant answered \"{at}\" to advance");
        }

        Now = Now.AddMilliseconds(RoundMs);
        Last = GuardRound.Parse(_guard.Ask(string.Create(CultureInfo.InvariantCulture, $"scan {Now.ToUnixTimeMilliseconds()}")));
        AfterRound?.Invoke(Last);
        return Last;
    }

    /// <summary>Rounds for a simulated time.</summary>
    public void Run(TimeSpan time)
    {
        for (DateTimeOffset end = Now + time; Now < end;)
        {
            Round();
        }
    }

    /// <summary>Rounds until a condition holds.</summary>
    /// <exception cref="DemoException">It does not within the simulated time.</exception>
    public void Await(string what, TimeSpan limit, Func<GuardRound, bool> condition)
    {
        for (DateTimeOffset end = Now + limit; !condition(Round());)
        {
            if (Now >= end)
            {
                throw new DemoException($"not reached within {limit.TotalMinutes:0.#} min: {what}");
            }
        }
    }

    /// <summary>Asks the guard through its request socket, as a person would, while the rounds go on.</summary>
    public RequestAnswer Request(string kind, string unit, string reason)
    {
        var message = new RequestMessage { Kind = kind, Unit = unit, Reason = reason, Person = "demo operator" };
        Task<byte[]> exchange = Task.Run(() => RequestClient.Exchange(_dataFolder, message, RequestLimitMs));
        while (!exchange.Wait(1))
        {
            Round();
        }

        return JsonSerializer.Deserialize(exchange.Result, RequestJson.Default.RequestAnswer) ?? throw new DemoException("the guard gave no answer to a request");
    }

    /// <summary>A command to the virtual plant: fault, clear, key.</summary>
    public void Plant(string command)
    {
        string answer = _plant.Ask(command);
        if (answer.StartsWith("error", StringComparison.Ordinal))
        {
            throw new DemoException($"the plant refused \"{command}\": {answer}");
        }
    }

    /// <summary>True values, which the guard never sees.</summary>
    public PlantTruth Truth() => Parse(_plant.Ask("state"), PlantJson.Default.PlantTruth);

    /// <summary>The judge's ledger.</summary>
    public LedgerReport Ledger() => Parse(_plant.Ask("ledger"), PlantJson.Default.LedgerReport);

    /// <summary>Orderly end of the guard: power removed, clean stop journalled. False when it did not end well.</summary>
    public bool StopGuard()
    {
        _guard.Tell("stop");
        return _guard.WaitForExit(20_000) && _guard.ExitCode == ExitCode.Good;
    }

    public void Dispose()
    {
        _guard.Dispose();
        _plant.Dispose();
    }

    private static T Parse<T>(string line, System.Text.Json.Serialization.Metadata.JsonTypeInfo<T> type) =>
        JsonSerializer.Deserialize(line, type) ?? throw new DemoException("the plant gave an empty answer");

    private static IReadOnlyList<int> Ports(string ready) =>
        [.. ready.Split(' ', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(part => int.Parse(part[(part.LastIndexOf(':') + 1)..], CultureInfo.InvariantCulture))];
}
