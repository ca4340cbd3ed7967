namespace EdgeGuard.Modbus.Server;

/// <summary>What a device may offer beyond its four tables. A device that does not is answered for with exception 01.</summary>
public interface IModbusDiagnosticDevice : IModbusDevice
{
    /// <summary>Reads the eight exception status outputs (function 07).</summary>
    ModbusExceptionCode ReadExceptionStatus(out byte status);

    /// <summary>
    /// One object of the device identification (function 43, type 14), ASCII, at most 244 bytes; empty when there is none.
    /// Objects 0 to 2 are basic and must be there when identification is offered at all; 3 to 6 are regular.
    /// </summary>
    /// <param name="objectId">0 to 6.</param>
    ReadOnlySpan<byte> IdentificationObject(byte objectId);
}
