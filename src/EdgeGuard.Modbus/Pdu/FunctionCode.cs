namespace EdgeGuard.Modbus.Pdu;

/// <summary>Function codes of this codec (Application Protocol V1.1b3, sections 6.1 to 6.6, 6.11 and 6.12).</summary>
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

    /// <summary>Write multiple coils (6.11).</summary>
    WriteMultipleCoils = 0x0F,

    /// <summary>Write multiple registers (6.12).</summary>
    WriteMultipleRegisters = 0x10,
}
