using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Benchmarks.Modbus;

/// <summary>A link that notes how long after its due time each poll begins, and how many were answered. Phase 0 is not counted.</summary>
internal sealed class TimedLink(IModbusLink link, FieldClock clock, long firstPollUs, long periodUs, int phaseCount) : IModbusLink
{
    private int _phase;

    public LatenessCount[] Late { get; } = [.. Enumerable.Range(0, phaseCount).Select(static _ => new LatenessCount())];

    public long[] Answered { get; } = new long[phaseCount];

    public int Phase
    {
        set => Volatile.Write(ref _phase, value);
    }

    public bool IsConnected => link.IsConnected;

    public void Connect(int timeoutMs) => link.Connect(timeoutMs);

    public void Close() => link.Close();

    public void Dispose() => link.Dispose();

    public ModbusResult ReadRegisters(byte unitId, ModbusTable table, ushort address, Span<ushort> words, int timeoutMs)
    {
        int phase = Volatile.Read(ref _phase);
        Late[phase].Note((clock.NowUs - firstPollUs) % periodUs);
        ModbusResult result = link.ReadRegisters(unitId, table, address, words, timeoutMs);
        Answered[phase] += result.IsGood ? 1 : 0;
        return result;
    }

    public ModbusResult ReadBits(byte unitId, ModbusTable table, ushort address, Span<ushort> words, int timeoutMs) =>
        link.ReadBits(unitId, table, address, words, timeoutMs);

    public ModbusResult WriteRegister(byte unitId, ushort address, ushort value, int timeoutMs) =>
        link.WriteRegister(unitId, address, value, timeoutMs);

    public ModbusResult WriteRegisters(byte unitId, ushort address, ReadOnlySpan<ushort> words, int timeoutMs) =>
        link.WriteRegisters(unitId, address, words, timeoutMs);

    public ModbusResult WriteCoil(byte unitId, ushort address, bool value, int timeoutMs) =>
        link.WriteCoil(unitId, address, value, timeoutMs);

    public ModbusResult WriteCoils(byte unitId, ushort address, ReadOnlySpan<bool> values, int timeoutMs) =>
        link.WriteCoils(unitId, address, values, timeoutMs);
}
