using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Interop.Tests.Modbus;

/// <summary>A device of 100 items a table behind our server, for a foreign client.</summary>
internal sealed class PeerDevice : IModbusDevice
{
    public bool[] Bits { get; } = new bool[100];

    public ushort[] Words { get; } = new ushort[100];

    public ModbusExceptionCode ReadBits(ModbusTable table, int address, Span<bool> values) => Copy(Bits, address, values);

    public ModbusExceptionCode ReadRegisters(ModbusTable table, int address, Span<ushort> values) => Copy(Words, address, values);

    public ModbusExceptionCode WriteCoils(int address, ReadOnlySpan<bool> values) => Store(values, Bits, address);

    public ModbusExceptionCode WriteRegisters(int address, ReadOnlySpan<ushort> values) => Store(values, Words, address);

    private static ModbusExceptionCode Copy<T>(T[] table, int address, Span<T> values)
    {
        if (address + values.Length > table.Length)
        {
            return ModbusExceptionCode.IllegalDataAddress;
        }

        table.AsSpan(address, values.Length).CopyTo(values);
        return ModbusExceptionCode.None;
    }

    private static ModbusExceptionCode Store<T>(ReadOnlySpan<T> values, T[] table, int address)
    {
        if (address + values.Length > table.Length)
        {
            return ModbusExceptionCode.IllegalDataAddress;
        }

        values.CopyTo(table.AsSpan(address));
        return ModbusExceptionCode.None;
    }
}
