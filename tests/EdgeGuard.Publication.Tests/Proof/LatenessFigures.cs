namespace EdgeGuard.Publication.Tests.Proof;

/// <summary>
/// What was measured around a publisher that idles, is stopped, flooded and killed, and whether it is good: the 99th
/// percentile of the scans' lateness within 0.2 ms of idle in each phase, a fresh value for a new client within 2 s of a stop
/// and of a kill, and in the flood no answer slower and no value older than that.
/// </summary>
internal sealed class LatenessFigures
{
    private const long WithinUs = 200;
    private const long WithinMs = 2_000;

    public List<long> Idle { get; } = [];

    public List<long> Stopped { get; } = [];

    public List<long> Flooded { get; } = [];

    public List<long> Killed { get; } = [];

    public List<long> StoppedBackMs { get; } = [];

    public List<long> KilledBackMs { get; } = [];

    /// <summary>Slowest answer to an honest client, or age of its value, of each flood.</summary>
    public List<long> FloodedWorstMs { get; } = [];

    public long Overruns { get; set; }

    /// <summary>Lateness of each scan, µs, by phase.</summary>
    public IReadOnlyDictionary<string, List<long>> Phases => new Dictionary<string, List<long>> { ["idle"] = Idle, ["stopped"] = Stopped, ["flooded"] = Flooded, ["killed"] = Killed };

    public bool AreGood => Phases.Values.All(v => P99(v) <= P99(Idle) + WithinUs) && Math.Max(Math.Max(StoppedBackMs.Max(), KilledBackMs.Max()), FloodedWorstMs.Max()) <= WithinMs;

    public override string ToString() =>
        "p99 of scan lateness " + string.Join(", ", Phases.Select(static p => $"{p.Key} {P99(p.Value)} us ({p.Value.Count} scans)"))
        + $", overruns {Overruns}; a fresh value after a stop in {string.Join(", ", StoppedBackMs)} ms, after a kill in {string.Join(", ", KilledBackMs)} ms"
        + $"; slowest answer or oldest value in the flood {string.Join(", ", FloodedWorstMs)} ms; {(AreGood ? "within" : "NOT within")} {WithinUs} us of idle and {WithinMs} ms";

    private static long P99(List<long> lateness) => lateness.Order().ElementAt((int)Math.Ceiling(lateness.Count * 0.99) - 1);
}
