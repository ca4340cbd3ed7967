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

    /// <summary>Unsigned 64 bit, four words; only numbers up to 2^53, which a double carries exactly.</summary>
    UInt64 = 7,

    /// <summary>Signed 64 bit, four words; only numbers between −2^53 and 2^53.</summary>
    Int64 = 8,

    /// <summary>IEEE 754 double precision, four words.</summary>
    Float64 = 9,

    /// <summary>Four binary-coded decimal digits, one word, 0 to 9999.</summary>
    Bcd16 = 10,

    /// <summary>Eight binary-coded decimal digits, two words, 0 to 99999999.</summary>
    Bcd32 = 11,

    /// <summary>Some neighbouring bits of one word as an unsigned number; read only.</summary>
    BitField = 12,
}
