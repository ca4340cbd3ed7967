using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Server;
using EdgeGuard.VirtualPlant.Electrical;

namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>
/// The controller of a cabinet behind unit id 1. Holding registers 0 to 9 and input registers 0 to 25, zero-based;
/// floats high word first (ABCD). The watchdog time (8) is read only: a write that touches it gets exception 02.
/// </summary>
public sealed class ControllerDevice(Cabinet cabinet) : IModbusDevice
{
    /// <summary>Unit id of the controller.</summary>
    public const byte UnitId = 1;

    private const int InputCount = 26;

    /// <inheritdoc/>
    public ModbusExceptionCode ReadBits(ModbusTable table, int address, Span<bool> values) => ModbusExceptionCode.IllegalFunction;

    /// <inheritdoc/>
    public ModbusExceptionCode WriteCoils(int address, ReadOnlySpan<bool> values) => ModbusExceptionCode.IllegalFunction;

    /// <inheritdoc/>
    public ModbusExceptionCode ReadRegisters(ModbusTable table, int address, Span<ushort> values)
    {
        int count = table == ModbusTable.HoldingRegisters ? CabinetRegisters.Count : InputCount;
        if (address < 0 || address + values.Length > count)
        {
            return ModbusExceptionCode.IllegalDataAddress;
        }

        Span<ushort> all = stackalloc ushort[count];
        lock (cabinet.Gate)
        {
            if (table == ModbusTable.HoldingRegisters)
            {
                PutHolding(all);
            }
            else
            {
                PutInput(all);
            }
        }

        all.Slice(address, values.Length).CopyTo(values);
        return ModbusExceptionCode.None;
    }

    /// <inheritdoc/>
    public ModbusExceptionCode WriteRegisters(int address, ReadOnlySpan<ushort> values)
    {
        bool touchesWatchdog = address <= CabinetRegisters.WatchdogAddress && address + values.Length > CabinetRegisters.WatchdogAddress;
        if (address < 0 || address + values.Length > CabinetRegisters.Count || touchesWatchdog)
        {
            return ModbusExceptionCode.IllegalDataAddress;
        }

        lock (cabinet.Gate)
        {
            return cabinet.TryWriteRegisters(address, values) ? ModbusExceptionCode.None : ModbusExceptionCode.IllegalDataValue;
        }
    }

    private void PutHolding(Span<ushort> words)
    {
        for (int address = 0; address < words.Length; address++)
        {
            words[address] = cabinet.Registers[address];
        }

        words[CabinetRegisters.EnableAddress] = cabinet.EnableSeen ? (ushort)1 : (ushort)0;
    }

    private void PutInput(Span<ushort> words)
    {
        FloatWords.PutHighFirst((float)cabinet.ElementIndicatedC, words);
        FloatWords.PutHighFirst((float)cabinet.OutletIndicatedC, words[2..]);
        FloatWords.PutHighFirst((float)cabinet.Profile.InletC, words[4..]);
        FloatWords.PutHighFirst((float)cabinet.Heater.PowerKw, words[6..]);
        words[8] = (ushort)Math.Round(cabinet.OutputPercent * 10.0);
        FloatWords.PutHighFirst((float)cabinet.SetpointC, words[9..]);
        words[11] = cabinet.StatusWord();
        PutPhases(cabinet.Electrical.CurrentsA, words[12..]);
        PutPhases(cabinet.Electrical.VoltagesV, words[18..]);
        FloatWords.PutHighFirst((float)cabinet.Electrical.LeakageMa, words[24..]);
    }

    private static void PutPhases(ThreePhase values, Span<ushort> words)
    {
        FloatWords.PutHighFirst((float)values.L1, words);
        FloatWords.PutHighFirst((float)values.L2, words[2..]);
        FloatWords.PutHighFirst((float)values.L3, words[4..]);
    }
}
