namespace EdgeGuard.Modbus;

/// <summary>The four tables of the Modbus data model (Application Protocol V1.1b3, section 4.3).</summary>
public enum ModbusTable : byte
{
    /// <summary>Not stated.</summary>
    None = 0,

    /// <summary>Coils: single bits, read and write.</summary>
    Coils = 1,

    /// <summary>Discrete inputs: single bits, read only.</summary>
    DiscreteInputs = 2,

    /// <summary>Input registers: 16 bit, read only.</summary>
    InputRegisters = 3,

    /// <summary>Holding registers: 16 bit, read and write.</summary>
    HoldingRegisters = 4,
}
