namespace EdgeGuard.Modbus.Client;

/// <summary>
/// The seam a Modbus client stack has to fill: one connection, used by one thread, one transaction at a time, every
/// call bounded by its time-out, no allocation per transaction once connected. A Modbus TCP connection is closed by a
/// time-out or a bad answer; a line that several devices share stays open (IsConnected tells). See docs/adr for what a
/// foreign stack must do to stand in.
/// </summary>
public interface IModbusLink : IDisposable
{
    /// <summary>True between a successful <see cref="Connect"/> and the first failure or <see cref="Close"/>.</summary>
    bool IsConnected { get; }

    /// <summary>Connects; throws an <see cref="System.IO.IOException"/> whose message says what, where and what to do.</summary>
    void Connect(int timeoutMs);

    /// <summary>Closes the connection; outstanding answers are never delivered.</summary>
    void Close();

    /// <summary>Reads 1 to 125 input or holding registers.</summary>
    ModbusResult ReadRegisters(byte unitId, ModbusTable table, ushort address, Span<ushort> words, int timeoutMs);

    /// <summary>Reads 1 to 2000 coils or discrete inputs, one per word, 0 or 1.</summary>
    ModbusResult ReadBits(byte unitId, ModbusTable table, ushort address, Span<ushort> words, int timeoutMs);

    /// <summary>Writes one holding register (function 06).</summary>
    ModbusResult WriteRegister(byte unitId, ushort address, ushort value, int timeoutMs);

    /// <summary>Writes 1 to 123 holding registers (function 16).</summary>
    ModbusResult WriteRegisters(byte unitId, ushort address, ReadOnlySpan<ushort> words, int timeoutMs);

    /// <summary>Writes one coil (function 05).</summary>
    ModbusResult WriteCoil(byte unitId, ushort address, bool value, int timeoutMs);

    /// <summary>Writes 1 to 1968 coils (function 15).</summary>
    ModbusResult WriteCoils(byte unitId, ushort address, ReadOnlySpan<bool> values, int timeoutMs);
}
