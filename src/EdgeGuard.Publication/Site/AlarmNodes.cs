using EdgeGuard.Core.Alarms;
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
    private readonly VariableNode _load;
    private readonly VariableNode _upsetLoad;
    private readonly VariableNode[] _counts;

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
        _load = builder.AddMultiState(folder, Spec("Load", StandardIds.UInt32, "Grade of the average in the words of EEMUA 191, for one person on watch"), Enum.GetNames<AlarmLoad>());
        _upsetLoad = builder.AddMultiState(folder, Spec("UpsetLoad", StandardIds.UInt32, "Grade of the most within ten minutes in the words of EEMUA 191"), Enum.GetNames<UpsetLoad>());
        _counts = [.. Counts.Select(count => builder.AddVariable(folder, Spec(count.Name, Int64, count.Text)))];
    }

    private static readonly (string Name, string Text)[] Counts =
    [
        ("High", "Alarms announced of high priority"),
        ("Medium", "Alarms announced of medium priority"),
        ("Low", "Alarms announced of low priority"),
        ("Standing", "Alarms that are shown and whose condition stands"),
        ("Unacknowledged", "Alarms nobody has acknowledged"),
        ("Shelved", "Alarms on the shelf"),
        ("Suppressed", "Alarms suppressed by design while their condition stands"),
        ("OutOfService", "Alarms out of service"),
        ("Chattering", "Alarms announced three times within the last minute"),
        ("Stale", "Alarms shown for more than a day"),
    ];

    public IEnumerable<VariableNode> All => [_total, _inTenMinutes, _mostInTenMinutes, _averageInTenMinutes, _flood, _floods, _floodPercent, _load, _upsetLoad, .. _counts];

    public void Write(in ScanRingLive live, UaDateTime now)
    {
        _total.Set(new Variant(live.AlarmsTotal), now);
        _inTenMinutes.Set(new Variant(live.AlarmsInTenMinutes), now);
        _mostInTenMinutes.Set(new Variant(live.AlarmsMostInTenMinutes), now);
        _averageInTenMinutes.SetNumber(live.AlarmsAverageInTenMinutes, now);
        _flood.Set(new Variant(live.AlarmFlood), now);
        _floods.Set(new Variant(live.AlarmFloods), now);
        _floodPercent.SetNumber(live.AlarmFloodPercent, now);
        _load.Set(new Variant((uint)AlarmBenchmarks.OfAverage(live.AlarmsAverageInTenMinutes)), now);
        _upsetLoad.Set(new Variant((uint)AlarmBenchmarks.OfUpset(live.AlarmsMostInTenMinutes)), now);
        ReadOnlySpan<long> counts =
        [
            live.AlarmsHigh, live.AlarmsMedium, live.AlarmsLow, live.AlarmsStanding, live.AlarmsUnacknowledged,
            live.AlarmsShelved, live.AlarmsSuppressed, live.AlarmsOutOfService, live.AlarmsChattering, live.AlarmsStale,
        ];
        for (int i = 0; i < counts.Length; i++)
        {
            _counts[i].Set(new Variant(counts[i]), now);
        }
    }
}
