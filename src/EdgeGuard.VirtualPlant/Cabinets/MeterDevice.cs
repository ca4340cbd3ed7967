using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Server;
using EdgeGuard.VirtualPlant.Faults;

namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>The flow meter of a cabinet behind unit id 2: input registers 0 to 4, floats low word first (CDAB).</summary>
public sealed class MeterDevice(Cabinet cabinet) : IModbusDevice
{
    /// <summary>Unit id of the meter.</summary>
    public const byte UnitId = 2;

    private const int InputCount = 5;

    /// <inheritdoc/>
    public ModbusExceptionCode ReadBits(ModbusTable table, int address, Span<bool> values) => ModbusExceptionCode.IllegalFunction;

    /// <inheritdoc/>
    public ModbusExceptionCode WriteCoils(int address, ReadOnlySpan<bool> values) => ModbusExceptionCode.IllegalFunction;

    /// <inheritdoc/>
    public ModbusExceptionCode WriteRegisters(int address, ReadOnlySpan<ushort> values) => ModbusExceptionCode.IllegalDataAddress;

    /// <inheritdoc/>
    public ModbusExceptionCode ReadRegisters(ModbusTable table, int address, Span<ushort> values)
    {
        if (table != ModbusTable.InputRegisters || address < 0 || address + values.Length > InputCount)
        {
            return ModbusExceptionCode.IllegalDataAddress;
        }

        Span<ushort> all = stackalloc ushort[InputCount];
        lock (cabinet.Gate)
        {
            FloatWords.PutLowFirst((float)cabinet.MeterKgPerHour, all);
            FloatWords.PutLowFirst((float)cabinet.Profile.InletC, all[2..]);
            all[4] = cabinet.Faults.Has(FaultKind.MeterFault) ? (ushort)1 : (ushort)0;
        }

        all.Slice(address, values.Length).CopyTo(values);
        return ModbusExceptionCode.None;
    }
}
