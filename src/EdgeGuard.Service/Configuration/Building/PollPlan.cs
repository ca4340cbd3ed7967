using EdgeGuard.Modbus;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Building;

// Few requests a scan matter more than few bytes: a request costs a turn-around, a register 2 bytes. So neighbouring
// points share a request across gaps of up to 8 registers. A device that refuses to read a gap answers with exception
// 02; then the map gets a "record" point less or the gap is larger than 8.

/// <summary>The read requests of one scan, and where each point stands in them.</summary>
internal sealed class PollPlan
{
    private const int LargestGap = 8;
    private const int MostRegisters = 125; // Modbus Application Protocol V1.1b3, sections 6.3 and 6.4
    private const int MostBits = 2_000; // the same, sections 6.1 and 6.2
    private readonly List<PollBlock> _blocks = [];
    private readonly List<int> _blockDevices = [];

    public PollPlan(SiteDraft site)
    {
        foreach (DeviceDraft device in site.Devices.OrderBy(d => d.Link).ThenBy(d => d.Index))
        {
            IEnumerable<RegisterPoint> points = BoundPoints(site, device).Concat(device.Map!.Points.Where(p => p.RecordOnly));
            foreach (IGrouping<ModbusTable, RegisterPoint> table in points.GroupBy(p => p.Table).OrderByDescending(g => g.Key))
            {
                AddBlocks(device, table.Key, [.. table.OrderBy(p => p.Address)]);
            }
        }
    }

    public IReadOnlyList<PollBlock> Blocks => _blocks;

    /// <summary>Block and word offset of a bound point.</summary>
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

    private void AddBlocks(DeviceDraft device, ModbusTable table, RegisterPoint[] points)
    {
        int most = table is ModbusTable.Coils or ModbusTable.DiscreteInputs ? MostBits : MostRegisters;
        int start = points[0].Address;
        int end = start;
        foreach (RegisterPoint point in points)
        {
            int pointEnd = point.Address + point.WordCount;
            if (point.Address - end > LargestGap || Math.Max(end, pointEnd) - start > most)
            {
                Add(device, table, start, end);
                start = point.Address;
                end = start;
            }

            end = Math.Max(end, pointEnd);
        }

        Add(device, table, start, end);
    }

    private void Add(DeviceDraft device, ModbusTable table, int start, int end)
    {
        _blocks.Add(new PollBlock
        {
            LinkIndex = device.Link,
            DeviceUnitId = (byte)device.UnitId,
            Table = table,
            Address = (ushort)start,
            Count = end - start,
        });
        _blockDevices.Add(device.Index);
    }
}
