using System.Collections.Concurrent;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>A device that lacks some functions and keeps what it is asked for, refused or not.</summary>
internal sealed class PickyDevice : IModbusDevice
{
    /// <summary>Called with each function before it is judged; true when the device lacks it.</summary>
    public Func<FunctionCode, bool> Lacks { get; set; } = static _ => false;

    /// <summary>Registers the device does not have; a request that touches one is refused with exception 02.</summary>
    public HashSet<int> Holes { get; init; } = [];

    /// <summary>Functions asked for, in order.</summary>
    public ConcurrentQueue<FunctionCode> Asked { get; } = new();

    /// <summary>What was written, in order.</summary>
    public ConcurrentQueue<string> Written { get; } = new();

    public bool Offers(FunctionCode function)
    {
        Asked.Enqueue(function);
        return !Lacks(function);
    }

    public ModbusExceptionCode ReadBits(ModbusTable table, int address, Span<bool> values) => ModbusExceptionCode.None;

    public ModbusExceptionCode ReadRegisters(ModbusTable table, int address, Span<ushort> values)
    {
        for (int i = 0; i < values.Length; i++)
        {
            if (Holes.Contains(address + i))
            {
                return ModbusExceptionCode.IllegalDataAddress;
            }

            values[i] = (ushort)(1_000 + address + i);
        }

        return ModbusExceptionCode.None;
    }

    public ModbusExceptionCode WriteCoils(int address, ReadOnlySpan<bool> values)
    {
        Written.Enqueue($"coil {address}={string.Join(',', values.ToArray())}");
        return ModbusExceptionCode.None;
    }

    public ModbusExceptionCode WriteRegisters(int address, ReadOnlySpan<ushort> values)
    {
        Written.Enqueue($"register {address}={string.Join(',', values.ToArray())}");
        return ModbusExceptionCode.None;
    }
}
