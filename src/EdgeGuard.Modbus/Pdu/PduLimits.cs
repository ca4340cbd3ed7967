namespace EdgeGuard.Modbus.Pdu;

/// <summary>Sizes and quantities fixed by the Application Protocol V1.1b3; nothing here is a choice of this program.</summary>
public static class PduLimits
{
    /// <summary>Longest PDU in bytes (section 4.1: 256 of RS-485 less address and CRC).</summary>
    public const int MaxPduLength = 253;

    /// <summary>Most coils or discrete inputs in one read (6.1, 6.2: 0x7D0).</summary>
    public const int MaxReadBits = 2000;

    /// <summary>Most registers in one read (6.3, 6.4: 0x7D).</summary>
    public const int MaxReadRegisters = 125;

    /// <summary>Most coils in one write (6.11: 0x7B0).</summary>
    public const int MaxWriteCoils = 1968;

    /// <summary>Most registers in one write (6.12: 0x7B).</summary>
    public const int MaxWriteRegisters = 123;

    /// <summary>Most registers written by a read-and-write request (6.17: 0x79).</summary>
    public const int MaxReadWriteWriteRegisters = 121;

    /// <summary>The one encapsulated interface type of this codec: read device identification (6.21).</summary>
    public const byte DeviceIdMeiType = 0x0E;

    /// <summary>Addresses of one table: 0 to 65535 (section 4.4).</summary>
    public const int AddressCount = 65536;

    /// <summary>The bit that marks an exception answer in the function byte (section 7).</summary>
    public const byte ExceptionFlag = 0x80;

    /// <summary>The only value that energises a coil with function 05 (6.5).</summary>
    public const ushort CoilOn = 0xFF00;

    /// <summary>The only value that de-energises a coil with function 05 (6.5).</summary>
    public const ushort CoilOff = 0x0000;
}
