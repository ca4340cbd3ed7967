namespace EdgeGuard.Service.Configuration;

/// <summary>Parity of a serial line; even is what the serial line specification V1.02 (2.5.1) asks of every device.</summary>
public enum LineParity
{
    /// <summary>Even.</summary>
    Even = 0,

    /// <summary>None; the specification then asks for two stop bits, so that a character keeps 11 bits.</summary>
    None = 1,

    /// <summary>Odd.</summary>
    Odd = 2,
}
