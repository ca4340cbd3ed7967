namespace EdgeGuard.Core.Signals;

/// <summary>How raw 16-bit words become a number.</summary>
public enum WordType : byte
{
    /// <summary>Not configured: decodes to bad.</summary>
    None = 0,

    /// <summary>One bit of a word, or a coil or discrete input; the bit number is 0 (least significant) to 15.</summary>
    Bit = 1,

    /// <summary>Unsigned 16 bit, one word.</summary>
    UInt16 = 2,

    /// <summary>Signed 16 bit, one word.</summary>
    Int16 = 3,

    /// <summary>Unsigned 32 bit, two words.</summary>
    UInt32 = 4,

    /// <summary>Signed 32 bit, two words.</summary>
    Int32 = 5,

    /// <summary>IEEE 754 single precision, two words.</summary>
    Float32 = 6,
}
