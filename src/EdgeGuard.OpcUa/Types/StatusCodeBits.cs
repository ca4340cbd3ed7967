namespace EdgeGuard.OpcUa;

/// <summary>Severity and information bits of a <see cref="StatusCode"/> (OPC 10000-4, table of StatusCode bit assignments).</summary>
public static class StatusCodeBits
{
    // InfoType DataValue (bit 10) and Overflow (bit 7).
    private const uint DataValueInfo = 0x0400;
    private const uint OverflowBit = 0x0080;

    /// <summary>Severity 00.</summary>
    public static bool IsGood(this StatusCode status) => ((uint)status & 0xC000_0000) == 0;

    /// <summary>Severity 01.</summary>
    public static bool IsUncertain(this StatusCode status) => ((uint)status & 0xC000_0000) == 0x4000_0000;

    /// <summary>Severity 10 (and the reserved 11).</summary>
    public static bool IsBad(this StatusCode status) => ((uint)status & 0x8000_0000) != 0;

    /// <summary>Severity and sub-code only, as listed in the enumeration.</summary>
    public static StatusCode Code(this StatusCode status) => (StatusCode)((uint)status & 0xFFFF_0000);

    /// <summary>Marks a value of a queue from which others were discarded; Good becomes 0x00000480.</summary>
    public static StatusCode WithOverflow(this StatusCode status) => (StatusCode)((uint)status | DataValueInfo | OverflowBit);

    /// <summary>Whether the overflow bit is set in a DataValue's status.</summary>
    public static bool HasOverflow(this StatusCode status) => ((uint)status & (DataValueInfo | OverflowBit)) == (DataValueInfo | OverflowBit);
}
