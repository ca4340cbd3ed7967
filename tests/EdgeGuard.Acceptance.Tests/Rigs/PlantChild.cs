using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using EdgeGuard.Demo;
using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Ledger;

namespace EdgeGuard.Acceptance.Tests.Rigs;

/// <summary>The virtual plant as its own process, commanded over its standard input.</summary>
internal sealed class PlantChild : IDisposable
{
    private readonly ChildProcess _process;
    private readonly Lock _gate = new();

    private PlantChild(ChildProcess process)
    {
        _process = process;
        Ports = [.. process.WaitForLine("ready", 60_000).Split(' ').Skip(1).Select(static p => int.Parse(p[(p.LastIndexOf(':') + 1)..], CultureInfo.InvariantCulture))];
    }

    /// <summary>Ports of the units in the order of the profiles.</summary>
    public IReadOnlyList<int> Ports { get; }

    public int Id => _process.Id;

    public bool HasExited => _process.HasExited;

    /// <summary>Starts in real time, or conducted with `--conducted` among the options.</summary>
    public static PlantChild Start(TestFolder folder, string profiles, params string[] options)
    {
        ChildProcess process = ChildProcess.Start([Repository.Program], folder.File("plant.log"), ["plant", "--quiet", "--port", "0", "--profile", profiles, "--ledger", folder.File("ledger.json"), .. options]);
        try
        {
            return new PlantChild(process);
        }
        catch
        {
            process.Dispose();
            throw;
        }
    }

    /// <summary>A command that must be taken.</summary>
    public string Command(string line)
    {
        lock (_gate)
        {
            string answer = _process.Ask(line);
            Assert.False(answer.StartsWith("error", StringComparison.Ordinal), $"the plant refused \"{line}\": {answer}");
            return answer;
        }
    }

    /// <summary>The ledger of a unit.</summary>
    public UnitLedgerReport Ledger(string unit = "N-1") => Parse("ledger " + unit, PlantJson.Default.UnitLedgerReport);

    /// <summary>True values of a unit.</summary>
    public CabinetTruth Truth(string unit = "N-1") => Parse("state " + unit, PlantJson.Default.CabinetTruth);

    /// <summary>Waits until the true values fulfil a condition; the limit is the patience of the test, not a measure.</summary>
    public CabinetTruth Await(string what, Func<CabinetTruth, bool> condition, int limitMs = 120_000, string unit = "N-1")
    {
        long end = Environment.TickCount64 + limitMs;
        CabinetTruth truth;
        while (!condition(truth = Truth(unit)))
        {
            Assert.True(Environment.TickCount64 < end, $"not within {limitMs} ms: {what}; the plant is at {truth} ({MachineLoad.Now()})");
            Thread.Sleep(20);
        }

        return truth;
    }

    public void Dispose() => _process.Dispose();

    private T Parse<T>(string command, JsonTypeInfo<T> type) => JsonSerializer.Deserialize(Command(command), type)!;
}
