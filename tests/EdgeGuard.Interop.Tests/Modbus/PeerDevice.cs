using System.Text;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Interop.Tests.Modbus;

/// <summary>
/// A device of 200 items a table behind our server, for a foreign client, with the same values as the foreign servers:
/// holding register a holds a, input register a holds 1000 + a, every third coil and every fifth discrete input is set.
/// </summary>
internal sealed class PeerDevice : IModbusDiagnosticDevice
{
    private const int Size = 200;

    private static readonly byte[][] Objects = [.. new[] { "EdgeGuard", "peer device", "1.0" }.Select(Encoding.ASCII.GetBytes)];

    /// <summary>When set, every request is refused with it.</summary>
    public ModbusExceptionCode Refusal { get; set; }

    public bool[] Coils { get; } = [.. Enumerable.Range(0, Size).Select(a => a % 3 == 0)];

    public bool[] DiscreteInputs { get; } = [.. Enumerable.Range(0, Size).Select(a => a % 5 == 0)];

    public ushort[] InputRegisters { get; } = [.. Enumerable.Range(0, Size).Select(a => (ushort)(1000 + a))];

    public ushort[] HoldingRegisters { get; } = [.. Enumerable.Range(0, Size).Select(a => (ushort)a)];

    public ModbusExceptionCode ReadBits(ModbusTable table, int address, Span<bool> values) =>
        Copy(table == ModbusTable.Coils ? Coils : DiscreteInputs, address, values);

    public ModbusExceptionCode ReadRegisters(ModbusTable table, int address, Span<ushort> values) =>
        Copy(table == ModbusTable.InputRegisters ? InputRegisters : HoldingRegisters, address, values);

    public ModbusExceptionCode WriteCoils(int address, ReadOnlySpan<bool> values) => Store(values, Coils, address);

    public ModbusExceptionCode WriteRegisters(int address, ReadOnlySpan<ushort> values) => Store(values, HoldingRegisters, address);

    public ModbusExceptionCode ReadExceptionStatus(out byte status)
    {
        status = 0x6D;
        return ModbusExceptionCode.None;
    }

    public ReadOnlySpan<byte> IdentificationObject(byte objectId) => objectId < Objects.Length ? Objects[objectId] : default;

    private ModbusExceptionCode Copy<T>(T[] table, int address, Span<T> values)
    {
        if (Refusal != ModbusExceptionCode.None)
        {
            return Refusal;
        }

        if (address + values.Length > table.Length)
        {
            return ModbusExceptionCode.IllegalDataAddress;
        }

        table.AsSpan(address, values.Length).CopyTo(values);
        return ModbusExceptionCode.None;
    }

    private ModbusExceptionCode Store<T>(ReadOnlySpan<T> values, T[] table, int address)
    {
        if (Refusal != ModbusExceptionCode.None)
        {
            return Refusal;
        }

        if (address + values.Length > table.Length)
        {
            return ModbusExceptionCode.IllegalDataAddress;
        }

        values.CopyTo(table.AsSpan(address));
        return ModbusExceptionCode.None;
    }
}
