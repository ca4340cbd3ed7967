using EdgeGuard.Modbus.Pdu;

namespace EdgeGuard.Modbus.Client;

/// <summary>The functions beyond cyclic polling: commissioning, probing and bits inside a register. Same rules as <see cref="IModbusLink"/>.</summary>
public interface IModbusDiagnosticLink : IModbusLink
{
    /// <summary>What the link has counted so far; live, and may be read from any thread.</summary>
    LinkCounters Counters { get; }

    /// <summary>End of the certificate that the peer showed at the latest connect (Modbus/TCP Security); null without one. May be read from any thread.</summary>
    DateTime? PeerCertificateEndUtc => null;

    /// <summary>Why the last answer was refused; None after a good one.</summary>
    AnswerFault LastFault { get; }

    /// <summary>Reads the eight exception status outputs (function 07) as the low byte of <paramref name="status"/>.</summary>
    ModbusResult ReadExceptionStatus(byte unitId, out ushort status, int timeoutMs);

    /// <summary>Has the device return two bytes (function 08, sub-function 0): is it there, and does it answer unaltered?</summary>
    ModbusResult ReturnQueryData(byte unitId, ushort data, int timeoutMs);

    /// <summary>Changes single bits of a holding register (function 22): (value AND andMask) OR (orMask AND NOT andMask).</summary>
    ModbusResult MaskWriteRegister(byte unitId, ushort address, ushort andMask, ushort orMask, int timeoutMs);

    /// <summary>Writes 1 to 121 holding registers, then reads 1 to 125 (function 23).</summary>
    ModbusResult ReadWriteRegisters(
        byte unitId, ushort readAddress, Span<ushort> read, ushort writeAddress, ReadOnlySpan<ushort> written, int timeoutMs);

    /// <summary>
    /// Reads the device identification (function 43, type 14) by as many requests as the stream takes; each may take
    /// <paramref name="timeoutMs"/>. Allocates: for commissioning, not for the scan.
    /// </summary>
    /// <param name="unitId">Unit id of the device.</param>
    /// <param name="access">Which part; <see cref="DeviceIdAccess.Individual"/> reads the one object given.</param>
    /// <param name="objectId">First object of the stream (0), or the single object.</param>
    /// <param name="timeoutMs">Bound of each transaction.</param>
    /// <param name="identification">What was read; null unless the result is good.</param>
    ModbusResult ReadDeviceIdentification(
        byte unitId, DeviceIdAccess access, byte objectId, int timeoutMs, out DeviceIdentification? identification);
}
