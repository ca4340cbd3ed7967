using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Publication.Site;

/// <summary>How much the people on watch have been asked to take since the guard started, after EEMUA 191.</summary>
internal sealed class AlarmNodes
{
    private readonly VariableNode _total;
    private readonly VariableNode _inTenMinutes;
    private readonly VariableNode _mostInTenMinutes;
    private readonly VariableNode _averageInTenMinutes;
    private readonly VariableNode _flood;
    private readonly VariableNode _floods;
    private readonly VariableNode _floodPercent;

    public AlarmNodes(SpaceBuilder builder, Node site, int scanMs)
    {
        ObjectNode folder = builder.AddFolder(site, "/alarms", "Alarms", "How many alarms people have been asked to take since the guard started");
        VariableSpec Spec(string name, uint type, string text) => new("/alarms/" + name, name, new NodeId(type)) { Description = text, MinimumSamplingIntervalMs = scanMs };
        const uint Int64 = 8; // OPC 10000-6, annex A
        _total = builder.AddVariable(folder, Spec("Total", Int64, "Alarms announced"));
        _inTenMinutes = builder.AddVariable(folder, Spec("InTenMinutes", Int64, "Alarms announced in the last ten minutes"));
        _mostInTenMinutes = builder.AddVariable(folder, Spec("MostInTenMinutes", Int64, "Most alarms announced within ten minutes"));
        _averageInTenMinutes = builder.AddAnalog(folder, Spec("AverageInTenMinutes", StandardIds.Double, "Average number of alarms announced within ten minutes"), "1");
        _flood = builder.AddTwoState(folder, Spec("Flood", StandardIds.Boolean, "More than ten alarms in ten minutes, and not below five since"), "flood", "no flood");
        _floods = builder.AddVariable(folder, Spec("Floods", Int64, "Floods of alarms begun"));
        _floodPercent = builder.AddAnalog(folder, Spec("FloodTime", StandardIds.Double, "Share of the time in a flood of alarms"), "%");
    }

    public IEnumerable<VariableNode> All => [_total, _inTenMinutes, _mostInTenMinutes, _averageInTenMinutes, _flood, _floods, _floodPercent];

    public void Write(in ScanRingLive live, UaDateTime now)
    {
        Set(_total, new Variant(live.AlarmsTotal), now);
        Set(_inTenMinutes, new Variant(live.AlarmsInTenMinutes), now);
        Set(_mostInTenMinutes, new Variant(live.AlarmsMostInTenMinutes), now);
        SetNumber(_averageInTenMinutes, live.AlarmsAverageInTenMinutes, now);
        Set(_flood, new Variant(live.AlarmFlood), now);
        Set(_floods, new Variant(live.AlarmFloods), now);
        SetNumber(_floodPercent, live.AlarmFloodPercent, now);
    }

    private static void Set(VariableNode node, Variant value, UaDateTime stamp) => node.Set(new DataValue(value, StatusCode.Good, stamp));

    private static void SetNumber(VariableNode node, double value, UaDateTime stamp) =>
        node.Set(double.IsNaN(value) ? new DataValue(default, StatusCode.BadNoData, stamp) : new DataValue(new Variant(value), StatusCode.Good, stamp));
}
