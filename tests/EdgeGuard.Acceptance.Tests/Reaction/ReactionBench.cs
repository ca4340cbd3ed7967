using System.Diagnostics;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.VirtualPlant.Ledger;

namespace EdgeGuard.Acceptance.Tests.Reaction;

/// <summary>
/// Measures the reaction over and over: heat, stop the blower at a chosen phase of the scan, wait for the ledger's
/// verdict, start again. Both units of the hall take turns at the same time. The scan keeps its phase on the monotonic
/// clock, which all processes of a machine share, so equally spaced moments of that clock sweep the phases.
/// </summary>
internal sealed class ReactionBench : IDisposable
{
    public const int ScanMs = 100;
    public const int DelayMs = 500;

    /// <summary>One scan until the value is taken, the delay in whole scans, and 50 ms for poll, write and ledger.</summary>
    public const int LimitMs = ScanMs + DelayMs + 50;

    private readonly TestFolder _folder = new();
    private readonly PlantChild _plant;
    private readonly GuardChild _guard;

    /// <param name="isPatient">True for a sample beside whatever else the machine does: an answer that it holds up is no loss of the link.</param>
    public ReactionBench(bool isPatient = false)
    {
        _plant = PlantChild.Start(_folder, "N-1,A-1");
        TestSite hall = TestSite.Hall(_plant.Ports[0], _plant.Ports[1]).Quick();
        string site = (isPatient ? hall.With("\"host\": \"127.0.0.1\",", "\"host\": \"127.0.0.1\", \"answerMs\": 900,") : hall)
            .With("\"supplyLimitKw\": 45", "\"supplyLimitKw\": 100")
            .With("\"rampUpKPerMin\": 60,", "\"rampUpKPerMin\": 600, \"heatAlarmKPerMin\": 5000,")
            .With("\"rampUpKPerMin\": 30,", "\"rampUpKPerMin\": 600, \"heatAlarmKPerMin\": 5000,")
            .With("\"afterCoolingBelowC\": 80", "\"afterCoolingBelowC\": 400")
            .With("\"resd\": { \"firingCycleMs\": 20 }", "\"resd\": { \"firingCycleMs\": 20, \"blankingMs\": 200, \"proofMs\": 200 }")
            .Write(_folder.File("site"));
        _guard = GuardChild.Start(_folder, site);
    }

    /// <summary>Runs until every phase is measured; each finished run is handed over at once.</summary>
    public void Measure(IEnumerable<double> phasesMs, Action<ReactionRun> finished)
    {
        var phases = new Queue<double>(phasesMs);
        var gate = new Lock();
        Parallel.ForEach((string[])["N-1", "A-1"], unit =>
        {
            while (TryTake(phases, gate, out double phaseMs))
            {
                ReactionRun run = MeasureOne(unit, phaseMs);
                lock (gate)
                {
                    finished(run);
                }
            }
        });
    }

    public void Dispose()
    {
        _guard.Dispose();
        _plant.Dispose();
        _folder.Dispose();
    }

    private static bool TryTake(Queue<double> phases, Lock gate, out double phaseMs)
    {
        lock (gate)
        {
            return phases.TryDequeue(out phaseMs);
        }
    }

    private ReactionRun MeasureOne(string unit, double phaseMs)
    {
        _guard.StartUnit(unit);
        _plant.Await("power flows", static t => t is { PowerKw: > 1.0, FlowKgPerHour: > 110 }, unit: unit);
        int before = _plant.Ledger(unit).FlowReactions.Count;
        SleepUntilPhase(phaseMs);
        _plant.Command("fault blower-stop " + unit);
        _plant.Await("power off", static t => t is { Permit: not PermitState.Permitted, PowerKw: 0, MeterKgPerHour: < 20 }, unit: unit);
        IReadOnlyList<FlowReaction> reactions = _plant.Ledger(unit).FlowReactions;
        _plant.Command("clear blower-stop " + unit);
        Assert.Equal(before + 1, reactions.Count);
        Assert.True(reactions[^1].PowerOffMs >= 0, "the ledger saw no power off");
        return ReactionRun.Of(unit, phaseMs, reactions[^1]);
    }

    private static void SleepUntilPhase(double phaseMs)
    {
        double nowMs = Stopwatch.GetTimestamp() * 1000.0 / Stopwatch.Frequency;
        double targetMs = (Math.Floor(nowMs / ScanMs) * ScanMs) + phaseMs;
        targetMs += targetMs - nowMs < 5 ? ScanMs : 0;
        Thread.Sleep((int)(targetMs - nowMs));
        while (Stopwatch.GetTimestamp() * 1000.0 / Stopwatch.Frequency < targetMs)
        {
            Thread.SpinWait(10);
        }
    }
}
