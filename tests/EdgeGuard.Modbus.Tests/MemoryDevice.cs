using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Modbus.Tests;

/// <summary>A device with all four tables of <c>Size</c> items, for tests; addresses beyond are exception 02.</summary>
internal class MemoryDevice : IModbusDevice
{
    private readonly Lock _gate = new();

    public MemoryDevice(int size = 65536)
    {
        Coils = new bool[size];
        DiscreteInputs = new bool[size];
        InputRegisters = new ushort[size];
        HoldingRegisters = new ushort[size];
    }

    public bool[] Coils { get; }

    public bool[] DiscreteInputs { get; }

    public ushort[] InputRegisters { get; }

    public ushort[] HoldingRegisters { get; }

    /// <summary>Calls that reached the device.</summary>
    public int CallCount { get; private set; }

    /// <summary>When set, every call is answered with it.</summary>
    public ModbusExceptionCode Refusal { get; set; }

    /// <summary>A function that the device does not offer; None for none.</summary>
    public FunctionCode Lacking { get; set; }

    /// <summary>When set, every call throws.</summary>
    public bool Throws { get; set; }

    public bool Offers(FunctionCode function) => function != Lacking;

    public ModbusExceptionCode ReadBits(ModbusTable table, int address, Span<bool> values) =>
        Copy(table == ModbusTable.Coils ? Coils : DiscreteInputs, address, values);

    public ModbusExceptionCode ReadRegisters(ModbusTable table, int address, Span<ushort> values) =>
        Copy(table == ModbusTable.InputRegisters ? InputRegisters : HoldingRegisters, address, values);

    public ModbusExceptionCode WriteCoils(int address, ReadOnlySpan<bool> values) => Store(values, Coils, address);

    public ModbusExceptionCode WriteRegisters(int address, ReadOnlySpan<ushort> values) => Store(values, HoldingRegisters, address);

    private ModbusExceptionCode Copy<T>(T[] table, int address, Span<T> values)
    {
        lock (_gate)
        {
            ModbusExceptionCode verdict = Judge(table.Length, address, values.Length);
            if (verdict == ModbusExceptionCode.None)
            {
                table.AsSpan(address, values.Length).CopyTo(values);
            }

            return verdict;
        }
    }

    private ModbusExceptionCode Store<T>(ReadOnlySpan<T> values, T[] table, int address)
    {
        lock (_gate)
        {
            ModbusExceptionCode verdict = Judge(table.Length, address, values.Length);
            if (verdict == ModbusExceptionCode.None)
            {
                values.CopyTo(table.AsSpan(address));
            }

            return verdict;
        }
    }

    private ModbusExceptionCode Judge(int size, int address, int count)
    {
        CallCount = unchecked(CallCount + 1);
        if (Throws)
        {
            throw new InvalidOperationException("The device fails on purpose.");
        }

        return Refusal != ModbusExceptionCode.None ? Refusal
            : address + count > size ? ModbusExceptionCode.IllegalDataAddress
            : ModbusExceptionCode.None;
    }
}
