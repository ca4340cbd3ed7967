using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Acceptance.Tests.Rigs;

/// <summary>A device whose registers stand still; for measuring the guard, not for playing a plant.</summary>
internal sealed class StillDevice(ushort[] input, ushort[] holding) : IModbusDevice
{
    private const int ElectricalWords = 14; // three currents, three voltages, leakage

    private static readonly ushort[] Twenty = [0x41A0, 0x0000]; // 20.0 as IEEE 754 single precision

    /// <summary>
    /// The cabinet of the example map: 20 °C everywhere, no power, no currents, key supervised, chain closed, watchdog time 2000 ms.
    /// </summary>
    public static StillDevice Controller() =>
        new([.. Twenty, .. Twenty, .. Twenty, 0, 0, 0, .. Twenty, 0x0003, .. new ushort[ElectricalWords]], [0, 0, 0, 0, 0, .. Twenty, 0, 2_000, 0]);

    /// <summary>The meter of the example map, low word first: 20 kg/h, 20 °C.</summary>
    public static StillDevice Meter() => new([0x0000, 0x41A0, 0x0000, 0x41A0, 0], []);

    public ModbusExceptionCode ReadBits(ModbusTable table, int address, Span<bool> values) => ModbusExceptionCode.IllegalDataAddress;

    public ModbusExceptionCode ReadRegisters(ModbusTable table, int address, Span<ushort> values)
    {
        ushort[] registers = table == ModbusTable.InputRegisters ? input : holding;
        if (address + values.Length > registers.Length)
        {
            return ModbusExceptionCode.IllegalDataAddress;
        }

        registers.AsSpan(address, values.Length).CopyTo(values);
        return ModbusExceptionCode.None;
    }

    public ModbusExceptionCode WriteCoils(int address, ReadOnlySpan<bool> values) => ModbusExceptionCode.IllegalDataAddress;

    public ModbusExceptionCode WriteRegisters(int address, ReadOnlySpan<ushort> values) => ModbusExceptionCode.IllegalDataAddress;
}
