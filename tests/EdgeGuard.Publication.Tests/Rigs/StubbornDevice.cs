using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>
/// A cabinet whose trip relay reads closed whatever is written, so that the guard writes its removal in each scan; everything
/// else stands still.
/// </summary>
internal sealed class StubbornDevice : IModbusDevice
{
    private const int RelayAddress = 1; // config/pilot-hall/cabinet.csv
    private readonly StillDevice _still = StillDevice.Controller();

    public ModbusExceptionCode ReadBits(ModbusTable table, int address, Span<bool> values) => ModbusExceptionCode.IllegalDataAddress;

    public ModbusExceptionCode ReadRegisters(ModbusTable table, int address, Span<ushort> values)
    {
        ModbusExceptionCode exception = _still.ReadRegisters(table, address, values);
        if (table == ModbusTable.HoldingRegisters && address <= RelayAddress && address + values.Length > RelayAddress)
        {
            values[RelayAddress - address] = 1;
        }

        return exception;
    }

    public ModbusExceptionCode WriteCoils(int address, ReadOnlySpan<bool> values) => ModbusExceptionCode.IllegalDataAddress;

    public ModbusExceptionCode WriteRegisters(int address, ReadOnlySpan<ushort> values) => ModbusExceptionCode.None;
}
