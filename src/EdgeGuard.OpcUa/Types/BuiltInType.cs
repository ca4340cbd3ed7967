namespace EdgeGuard.OpcUa;

/// <summary>Identifiers of the built-in types (OPC 10000-6, table of built-in types); also the low six bits of a Variant's first byte.</summary>
public enum BuiltInType : byte
{
    /// <summary>No value.</summary>
    Null = 0,

    /// <summary>One byte, 0 is false.</summary>
    Boolean = 1,

    /// <summary>Signed 8 bits.</summary>
    SByte = 2,

    /// <summary>Unsigned 8 bits.</summary>
    Byte = 3,

    /// <summary>Signed 16 bits.</summary>
    Int16 = 4,

    /// <summary>Unsigned 16 bits.</summary>
    UInt16 = 5,

    /// <summary>Signed 32 bits; also every enumeration.</summary>
    Int32 = 6,

    /// <summary>Unsigned 32 bits.</summary>
    UInt32 = 7,

    /// <summary>Signed 64 bits.</summary>
    Int64 = 8,

    /// <summary>Unsigned 64 bits.</summary>
    UInt64 = 9,

    /// <summary>IEEE 754 single precision.</summary>
    Float = 10,

    /// <summary>IEEE 754 double precision.</summary>
    Double = 11,

    /// <summary>UTF-8 text or null.</summary>
    String = 12,

    /// <summary>100 ns intervals since 1601-01-01 UTC.</summary>
    DateTime = 13,

    /// <summary>16-byte identifier.</summary>
    Guid = 14,

    /// <summary>Octets or null.</summary>
    ByteString = 15,

    /// <summary>An XML element as UTF-8 text.</summary>
    XmlElement = 16,

    /// <summary>Identifier of a node.</summary>
    NodeId = 17,

    /// <summary>Identifier of a node, possibly of another server.</summary>
    ExpandedNodeId = 18,

    /// <summary>32-bit result.</summary>
    StatusCode = 19,

    /// <summary>Name with a namespace.</summary>
    QualifiedName = 20,

    /// <summary>Text with a locale.</summary>
    LocalizedText = 21,

    /// <summary>Structure with its type.</summary>
    ExtensionObject = 22,

    /// <summary>Value with status and timestamps.</summary>
    DataValue = 23,

    /// <summary>Union of all built-in types.</summary>
    Variant = 24,

    /// <summary>Vendor diagnostics.</summary>
    DiagnosticInfo = 25,
}
