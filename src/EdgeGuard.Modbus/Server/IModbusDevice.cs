using EdgeGuard.Modbus.Pdu;

namespace EdgeGuard.Modbus.Server;

/// <summary>
/// A device behind one unit id of a server. The engine has validated function and quantity; the device judges
/// addresses and values. Called from the server's connection threads: implementations lock themselves.
/// </summary>
public interface IModbusDevice
{
    /// <summary>False for a function that the device does not offer: it is answered for with exception 01, whatever else is in the request.</summary>
    bool Offers(FunctionCode function) => true;

    /// <summary>Reads coils or discrete inputs.</summary>
    /// <param name="table">Coils or DiscreteInputs.</param>
    /// <param name="address">Zero-based protocol address of the first bit.</param>
    /// <param name="values">Filled with the bits.</param>
    ModbusExceptionCode ReadBits(ModbusTable table, int address, Span<bool> values);

    /// <summary>Reads input or holding registers.</summary>
    /// <param name="table">InputRegisters or HoldingRegisters.</param>
    /// <param name="address">Zero-based protocol address of the first register.</param>
    /// <param name="values">Filled with the words.</param>
    ModbusExceptionCode ReadRegisters(ModbusTable table, int address, Span<ushort> values);

    /// <summary>Writes coils; all or nothing.</summary>
    ModbusExceptionCode WriteCoils(int address, ReadOnlySpan<bool> values);

    /// <summary>Writes holding registers; all or nothing.</summary>
    ModbusExceptionCode WriteRegisters(int address, ReadOnlySpan<ushort> values);

    /// <summary>
    /// Sets a holding register to (value AND andMask) OR (orMask AND NOT andMask) (function 22). As given here a read and
    /// a write, between which another connection may write; a device with several clients that mask-write locks and
    /// does it in one step.
    /// </summary>
    ModbusExceptionCode MaskWriteRegister(int address, ushort andMask, ushort orMask)
    {
        Span<ushort> word = stackalloc ushort[1];
        ModbusExceptionCode exception = ReadRegisters(ModbusTable.HoldingRegisters, address, word);
        if (exception != ModbusExceptionCode.None)
        {
            return exception;
        }

        word[0] = (ushort)((word[0] & andMask) | (orMask & ~andMask));
        return WriteRegisters(address, word);
    }
}
