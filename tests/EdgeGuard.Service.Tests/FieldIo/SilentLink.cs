using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>Answers everything well and allocates nothing, so that what allocates is the code under test.</summary>
internal sealed class SilentLink : IModbusLink
{
    public bool IsConnected => true;

    public int WriteCount { get; private set; }

    public void Connect(int timeoutMs)
    {
    }

    public void Close()
    {
    }

    public ModbusResult ReadRegisters(byte unitId, ModbusTable table, ushort address, Span<ushort> words, int timeoutMs) => new(ModbusOutcome.Good);

    public ModbusResult ReadBits(byte unitId, ModbusTable table, ushort address, Span<ushort> words, int timeoutMs) => new(ModbusOutcome.Good);

    public ModbusResult WriteRegister(byte unitId, ushort address, ushort value, int timeoutMs) => Count();

    public ModbusResult WriteRegisters(byte unitId, ushort address, ReadOnlySpan<ushort> words, int timeoutMs) => Count();

    public ModbusResult WriteCoil(byte unitId, ushort address, bool value, int timeoutMs) => Count();

    public ModbusResult WriteCoils(byte unitId, ushort address, ReadOnlySpan<bool> values, int timeoutMs) => Count();

    public void Dispose()
    {
    }

    private ModbusResult Count()
    {
        WriteCount++;
        return new ModbusResult(ModbusOutcome.Good);
    }
}
