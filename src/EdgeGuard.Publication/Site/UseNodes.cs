using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Publication.Site;

/// <summary>What a unit has been used for since the guard started: energy, contactor, thermal cycles of the element.</summary>
internal sealed class UseNodes
{
    private static readonly (string Name, string Unit, string Description, Func<ScanRingUse, double> Figure)[] Figures =
    [
        ("Energy", "kWh", "Energy since the guard started", static use => use.EnergyKwh),
        ("PoweredTime", "h", "Time with power since the guard started", static use => use.PoweredHours),
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
    ];

    private readonly VariableNode[] _nodes;

    public UseNodes(SpaceBuilder builder, Node unit, string name, int scanMs)
    {
        ObjectNode folder = builder.AddFolder(unit, name + "/use", "Use", "What the unit has been used for since the guard started");
        _nodes = Array.ConvertAll(Figures, figure => builder.AddAnalog(
            folder, new VariableSpec($"{name}/use/{figure.Name}", figure.Name, new NodeId(StandardIds.Double)) { Description = figure.Description, MinimumSamplingIntervalMs = scanMs }, figure.Unit));
    }

    public IEnumerable<VariableNode> All => _nodes;

    public void Write(in ScanRingUse use, UaDateTime scan)
    {
        for (int i = 0; i < _nodes.Length; i++)
        {
            double figure = Figures[i].Figure(use);
            _nodes[i].Set(double.IsNaN(figure) ? new DataValue(default, StatusCode.BadNoData, scan) : new DataValue(new Variant(figure), StatusCode.Good, scan));
        }
    }
}
