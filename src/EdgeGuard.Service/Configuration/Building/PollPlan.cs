using EdgeGuard.Modbus;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Building;

// Few requests a scan matter more than few bytes: a request costs a turn-around, a register 2 bytes. So neighbouring
// points share a request across gaps of up to `maxGap` registers, at most `maxRegisters` of the device. Points that are
// read less often get requests of their own, unless they lie inside what is read more often anyway. A device that
// refuses to read a gap answers with exception 02: then the link reads the used parts one by one for the rest of the run.

/// <summary>The read requests of a site, and where each point stands in them.</summary>
internal sealed class PollPlan
{
    private const int MostBits = 2_000; // Modbus Application Protocol V1.1b3, sections 6.1 and 6.2
    private readonly List<PollBlock> _blocks = [];
    private readonly List<int> _blockDevices = [];

    public PollPlan(SiteDraft site)
    {
        foreach (DeviceDraft device in site.Devices.OrderBy(d => d.Link).ThenBy(d => d.Index))
        {
            IEnumerable<RegisterPoint> points = BoundPoints(site, device).Concat(device.Map!.Points.Where(p => p.RecordOnly));
            foreach (IGrouping<ModbusTable, RegisterPoint> table in points.GroupBy(p => p.Table).OrderByDescending(g => g.Key))
            {
                AddBlocks(device, table.Key, table);
            }
        }
    }

    public IReadOnlyList<PollBlock> Blocks => _blocks;

    /// <summary>Block and word offset of a bound point; the block that is read most often where there are several.</summary>
    public (int Block, int WordOffset) Find(BoundPoint bound)
    {
        for (int i = 0; i < _blocks.Count; i++)
        {
            PollBlock block = _blocks[i];
            int offset = bound.Point.Address - block.Address;
            if (_blockDevices[i] == bound.Device.Index && block.Table == bound.Point.Table && offset >= 0 && offset + bound.Point.WordCount <= block.Count)
            {
                return (i, offset);
            }
        }

        throw new InvalidOperationException($"{bound.Description} is in no poll block.");
    }

    private static IEnumerable<RegisterPoint> BoundPoints(SiteDraft site, DeviceDraft device) =>
        site.Units.SelectMany(u => u.BoundSignals.Values).Where(b => ReferenceEquals(b.Device, device)).Select(b => b.Point);

    private void AddBlocks(DeviceDraft device, ModbusTable table, IEnumerable<RegisterPoint> points)
    {
        int most = table is ModbusTable.Coils or ModbusTable.DiscreteInputs ? MostBits : (int)device.MaxRegisters;
        var done = new List<PackedRequest>();
        foreach (IGrouping<int, RegisterPoint> rate in points.GroupBy(p => p.EveryScans).OrderBy(g => g.Key))
        {
            var rest = new List<(int Address, int Count)>();
            foreach (RegisterPoint point in rate.OrderBy(p => p.Address).ThenBy(p => p.WordCount))
            {
                if (done.Find(r => r.Covers(point.Address, point.WordCount)) is { } there)
                {
                    there.Add(point.Address, point.WordCount);
                }
                else
                {
                    rest.Add((point.Address, point.WordCount));
                }
            }

            foreach (PackedRequest request in RequestPacker.Pack(rest, (int)device.MaxGap, most))
            {
                done.Add(request);
                _blocks.Add(Block(device, table, rate.Key, request));
                _blockDevices.Add(device.Index);
            }
        }
    }

    private static PollBlock Block(DeviceDraft device, ModbusTable table, int everyScans, PackedRequest request) => new()
    {
        LinkIndex = device.Link,
        DeviceUnitId = (byte)device.UnitId,
        Table = table,
        Address = (ushort)request.Address,
        Count = request.Count,
        EveryScans = everyScans,
        Spans = request.Spans,
        AnswerDelayMs = device.AnswerDelayMs,
    };
}
