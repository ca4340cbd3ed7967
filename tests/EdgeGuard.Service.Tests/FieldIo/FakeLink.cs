using System.Collections.Concurrent;
using System.Net.Sockets;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>
/// A device in memory with faults on command. It keeps every transaction in order as text, e.g. "write 1:1=0", so
/// that tests state what went over the wire.
/// </summary>
internal class FakeLink : IModbusLink
{
    private readonly ConcurrentQueue<string> _log = new();
    private bool _open;
    private bool _dead;

    /// <summary>Called before each transaction; returns null for a good answer or the outcome to inject.</summary>
    public Func<string, ModbusResult?> Fault { get; set; } = static _ => null;

    /// <summary>Called when an open connection is closed.</summary>
    public Action Closing { get; set; } = static () => { };

    /// <summary>Refuses connections while true.</summary>
    public volatile bool Refusing;

    /// <summary>Holding registers of the device; input registers read the same memory.</summary>
    public ushort[] Registers { get; } = new ushort[64];

    public bool IsConnected => _open && !_dead;

    /// <summary>True for a line that stays open when a device is silent, as a serial port does.</summary>
    public bool StaysOpen { get; set; }

    public string[] Log => [.. _log];

    public string[] Writes => [.. _log.Where(l => l.StartsWith("write", StringComparison.Ordinal))];

    public void ClearLog() => _log.Clear();

    /// <summary>Called before a connection is opened.</summary>
    public Action Opening { get; set; } = static () => { };

    public void Connect(int timeoutMs)
    {
        Opening();
        if (Refusing)
        {
            _log.Enqueue("refused");
            throw new SocketException((int)SocketError.ConnectionRefused);
        }

        _log.Enqueue("connect");
        _open = true;
        _dead = false;
    }

    public void Close()
    {
        if (_open)
        {
            _log.Enqueue("close");
            _open = false;
            Closing();
        }
    }

    public ModbusResult ReadRegisters(byte unitId, ModbusTable table, ushort address, Span<ushort> words, int timeoutMs)
    {
        ModbusResult result = Transact($"read {unitId}:{address}+{words.Length}");
        if (result.IsGood)
        {
            Registers.AsSpan(address, words.Length).CopyTo(words);
        }

        return result;
    }

    public ModbusResult ReadBits(byte unitId, ModbusTable table, ushort address, Span<ushort> words, int timeoutMs) =>
        ReadRegisters(unitId, table, address, words, timeoutMs);

    public ModbusResult WriteRegister(byte unitId, ushort address, ushort value, int timeoutMs)
    {
        ModbusResult result = Transact($"write {unitId}:{address}={value}");
        if (result.IsGood)
        {
            Registers[address] = value;
        }

        return result;
    }

    public ModbusResult WriteRegisters(byte unitId, ushort address, ReadOnlySpan<ushort> words, int timeoutMs)
    {
        ModbusResult result = Transact($"write {unitId}:{address}={string.Join(',', words.ToArray())}");
        if (result.IsGood)
        {
            words.CopyTo(Registers.AsSpan(address));
        }

        return result;
    }

    public ModbusResult WriteCoil(byte unitId, ushort address, bool value, int timeoutMs) => WriteRegister(unitId, address, value ? (ushort)1 : (ushort)0, timeoutMs);

    public ModbusResult WriteCoils(byte unitId, ushort address, ReadOnlySpan<bool> values, int timeoutMs)
    {
        var words = new ushort[values.Length];
        for (int i = 0; i < words.Length; i++)
        {
            words[i] = values[i] ? (ushort)1 : (ushort)0;
        }

        return WriteRegisters(unitId, address, words, timeoutMs);
    }

    public void Dispose() => Close();

    private ModbusResult Transact(string line)
    {
        if (!IsConnected)
        {
            return new ModbusResult(ModbusOutcome.NotConnected);
        }

        _log.Enqueue(line);
        ModbusResult result = Fault(line) ?? new ModbusResult(ModbusOutcome.Good);
        _dead = !StaysOpen && result.Outcome is not (ModbusOutcome.Good or ModbusOutcome.DeviceException);
        return result;
    }
}
