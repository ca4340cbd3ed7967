namespace EdgeGuard.OpcUa;

/// <summary>How the body of an <see cref="ExtensionObject"/> is encoded (OPC 10000-6, 5.2.2.15).</summary>
public enum ExtensionObjectEncoding : byte
{
    /// <summary>No body.</summary>
    None = 0,

    /// <summary>A ByteString in the binary encoding.</summary>
    Binary = 1,

    /// <summary>An XML element.</summary>
    Xml = 2,
}
