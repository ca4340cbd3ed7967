using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Records.Kept;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Publication.Site;

/// <summary>What a unit has been used for, over restarts: energy, contactor, thermal cycles of the element.</summary>
internal sealed class UseNodes
{
    private static readonly (string Name, string Unit, string Description, Func<ScanRingUse, double> Figure)[] Figures =
    [
        ("Energy", "kWh", "Energy since the time of CountedSince", static use => use.EnergyKwh),
        ("PoweredTime", "h", "Time with power", static use => use.PoweredHours),
        ("ContactorClosings", "1", "Times the contactor was seen to close", static use => use.ContactorClosings),
        ("OpeningsUnderPower", "1", "Times the contactor opened under power, which wears it", static use => use.OpeningsUnderPower),
        ("LedCycles", "1", "Thermal cycles of the element whose fall was led", static use => use.LedCycles),
        ("ForcedCycles", "1", "Thermal cycles of the element that a trip forced", static use => use.ForcedCycles),
        ("DeepestLedFall", "K", "Deepest fall of a led cycle", static use => use.DeepestLedK),
        ("DeepestForcedFall", "K", "Deepest fall of a forced cycle", static use => use.DeepestForcedK),
        ("FastestRise", "K/min", "Fastest rise of the element", static use => use.FastestRiseKPerMin),
        ("FastestLedFall", "K/min", "Fastest fall of the element that was led", static use => use.FastestLedFallKPerMin),
        ("FastestForcedFall", "K/min", "Fastest fall of the element that a trip forced", static use => use.FastestForcedFallKPerMin),
        ("LedExcess", "s", "Time of led falls faster than the cap", static use => use.LedExcessSeconds),
        ("ForcedExcess", "s", "Time of forced falls faster than the cap", static use => use.ForcedExcessSeconds),
        ("LearntLoss", "W/K", "Loss of the energy balance per kelvin of element above ambient, as learnt so far", static use => use.LossWattsPerK),
        ("LearntLossBlocks", "1", "Quasi-steady blocks the loss was learnt from", static use => use.LossBlocks),
        ("NoiseElement", "K", "Learnt noise of the element sensor, standard deviation of a reading; 0 where nothing is learnt", static use => use.NoiseElementK),
        ("NoiseOutlet", "K", "Learnt noise of the outlet sensor; 0 where nothing is learnt", static use => use.NoiseOutletK),
        ("NoiseFlow", "kg/h", "Learnt noise of the flow meter; 0 where nothing is learnt", static use => use.NoiseFlowKgPerHour),
        ("FirstLeg", "%", "First leg at 20 °C against its first reading", static use => use.FirstLegPercent),
        ("SecondLeg", "%", "Second leg at 20 °C against its first reading", static use => use.SecondLegPercent),
        ("ThirdLeg", "%", "Third leg at 20 °C against its first reading", static use => use.ThirdLegPercent),
        ("LegReadings", "1", "Readings of the legs, one a day at most", static use => use.LegReadings),
        ("LegRisePerYear", "%", "Rise in a year of the leg that rises fastest", static use => use.LegPercentPerYear),
    ];

    private readonly VariableNode[] _nodes;
    private readonly VariableNode[] _bands;
    private readonly VariableNode _since;
    private readonly VariableNode _legWarn;

    public UseNodes(SpaceBuilder builder, Node unit, string name, int scanMs)
    {
        ObjectNode folder = builder.AddFolder(unit, name + "/use", "Use", "What the unit has been used for since the time of CountedSince, over restarts, and what was learnt of it");
        _nodes = Array.ConvertAll(Figures, figure => builder.AddAnalog(
            folder, new VariableSpec($"{name}/use/{figure.Name}", figure.Name, new NodeId(StandardIds.Double)) { Description = figure.Description, MinimumSamplingIntervalMs = scanMs }, figure.Unit));
        _since = builder.AddVariable(folder, new VariableSpec(name + "/use/CountedSince", "CountedSince", new NodeId(StandardIds.UtcTime)) { Description = "Since when use, trips and demands of the unit are counted", MinimumSamplingIntervalMs = scanMs });
        _legWarn = builder.AddVariable(folder, new VariableSpec(name + "/use/LegWarning", "LegWarning", new NodeId(StandardIds.UtcTime)) { Description = "When that leg is expected 10 % up; no value before 90 days or 10 thermal cycles, nor while it could as well not rise", MinimumSamplingIntervalMs = scanMs });
        _bands = [.. KeptRecord.BandsC.Select(c => builder.AddAnalog(
            folder, new VariableSpec($"{name}/use/From{c}C", $"From{c}C", new NodeId(StandardIds.Double)) { Description = $"Time of the element at {c} °C and above, up to the next band", MinimumSamplingIntervalMs = scanMs }, "h"))];
    }

    public IEnumerable<VariableNode> All => [.. _nodes, _since, _legWarn, .. _bands];

    /// <summary>Writes the figures of a unit.</summary>
    public void Write(ScanRingReader ring, int unit, UaDateTime scan)
    {
        ScanRingUse use = ring.ReadUse(unit);
        _since.SetMoment(use.SinceUtcMs, scan);
        _legWarn.SetMoment(use.LegWarnUtcMs, scan);
        for (int band = 0; band < _bands.Length; band++)
        {
            _bands[band].Set(new Variant(ring.ReadBandHours(unit, band)), scan);
        }

        for (int i = 0; i < _nodes.Length; i++)
        {
            _nodes[i].SetNumber(Figures[i].Figure(use), scan);
        }
    }
}
