using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Benchmarks.Modbus;

/// <summary>Two hundred registers to read, nothing else.</summary>
internal sealed class BenchRegisters : IModbusDevice
{
    private readonly ushort[] _words = new ushort[200];

    public ModbusExceptionCode ReadBits(ModbusTable table, int address, Span<bool> values) => ModbusExceptionCode.IllegalFunction;

    public ModbusExceptionCode ReadRegisters(ModbusTable table, int address, Span<ushort> values)
    {
        if (address + values.Length > _words.Length)
        {
            return ModbusExceptionCode.IllegalDataAddress;
        }

        _words.AsSpan(address, values.Length).CopyTo(values);
        return ModbusExceptionCode.None;
    }

    public ModbusExceptionCode WriteCoils(int address, ReadOnlySpan<bool> values) => ModbusExceptionCode.IllegalFunction;

    public ModbusExceptionCode WriteRegisters(int address, ReadOnlySpan<ushort> values) => ModbusExceptionCode.IllegalFunction;
}
