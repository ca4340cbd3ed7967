namespace EdgeGuard.Core.Signals;

/// <summary>
/// Order of the four bytes A (most significant) to D of a 32-bit value as they stand in two registers.
/// Modbus defines the byte order of one 16-bit register only, so the order is always written in the configuration.
/// A 64-bit value in four registers follows the same two questions: which word comes first, and are bytes swapped.
/// </summary>
public enum WordOrder : byte
{
    /// <summary>Not configured: a type of more than one word decodes to bad.</summary>
    None = 0,

    /// <summary>Most significant word first, bytes in Modbus order.</summary>
    Abcd = 1,

    /// <summary>Least significant word first, bytes in Modbus order.</summary>
    Cdab = 2,

    /// <summary>Most significant word first, bytes swapped within each word.</summary>
    Badc = 3,

    /// <summary>Least significant word first, bytes swapped within each word.</summary>
    Dcba = 4,
}
