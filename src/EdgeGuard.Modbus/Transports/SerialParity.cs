namespace EdgeGuard.Modbus.Transports;

/// <summary>Parity of a serial line. Zero is the default of the serial guide (V1.02, 2.5.1: even).</summary>
public enum SerialParity : byte
{
    /// <summary>Even parity.</summary>
    Even = 0,

    /// <summary>Odd parity.</summary>
    Odd = 1,

    /// <summary>No parity; the guide then asks for two stop bits.</summary>
    None = 2,
}
