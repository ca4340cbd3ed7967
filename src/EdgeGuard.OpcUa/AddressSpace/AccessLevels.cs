namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>Bits of the AccessLevel attribute (OPC 10000-3, AccessLevelType).</summary>
[Flags]
public enum AccessLevels
{
    /// <summary>Nothing is allowed.</summary>
    None = 0,

    /// <summary>The current value can be read.</summary>
    CurrentRead = 0x01,

    /// <summary>The current value can be written.</summary>
    CurrentWrite = 0x02,

    /// <summary>The history can be read.</summary>
    HistoryRead = 0x04,

    /// <summary>The history can be changed.</summary>
    HistoryWrite = 0x08,

    /// <summary>The value gives semantic change events.</summary>
    SemanticChange = 0x10,

    /// <summary>The status can be written with the value.</summary>
    StatusWrite = 0x20,

    /// <summary>The source timestamp can be written with the value.</summary>
    TimestampWrite = 0x40,
}
