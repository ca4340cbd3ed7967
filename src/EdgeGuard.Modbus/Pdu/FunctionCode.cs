namespace EdgeGuard.Modbus.Pdu;

/// <summary>Function codes of this codec (Application Protocol V1.1b3, section 6).</summary>
public enum FunctionCode : byte
{
    /// <summary>Not a function; never valid on the wire (V1.1b3 section 4.1).</summary>
    None = 0,

    /// <summary>Read coils (6.1).</summary>
    ReadCoils = 0x01,

    /// <summary>Read discrete inputs (6.2).</summary>
    ReadDiscreteInputs = 0x02,

    /// <summary>Read holding registers (6.3).</summary>
    ReadHoldingRegisters = 0x03,

    /// <summary>Read input registers (6.4).</summary>
    ReadInputRegisters = 0x04,

    /// <summary>Write single coil (6.5).</summary>
    WriteSingleCoil = 0x05,

    /// <summary>Write single register (6.6).</summary>
    WriteSingleRegister = 0x06,

    /// <summary>Read the eight exception status outputs (6.7); serial line only by the specification.</summary>
    ReadExceptionStatus = 0x07,

    /// <summary>Diagnostics (6.8); of its sub-functions only 0, return query data. Serial line only by the specification.</summary>
    Diagnostics = 0x08,

    /// <summary>Write multiple coils (6.11).</summary>
    WriteMultipleCoils = 0x0F,

    /// <summary>Write multiple registers (6.12).</summary>
    WriteMultipleRegisters = 0x10,

    /// <summary>Mask write register (6.16).</summary>
    MaskWriteRegister = 0x16,

    /// <summary>Read and write multiple registers, the write first (6.17).</summary>
    ReadWriteMultipleRegisters = 0x17,

    /// <summary>Encapsulated interface (6.19); of its types only 14, read device identification (6.21).</summary>
    EncapsulatedInterface = 0x2B,
}
