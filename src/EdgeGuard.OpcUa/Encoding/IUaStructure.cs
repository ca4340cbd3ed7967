namespace EdgeGuard.OpcUa;

/// <summary>A structure of the standard that can be written in the binary encoding.</summary>
public interface IUaStructure
{
    /// <summary>Numeric identifier (namespace 0) of the type's binary encoding.</summary>
    uint BinaryEncodingId { get; }

    /// <summary>Writes the fields in their order.</summary>
    void Write(UaWriter writer);
}

/// <summary>A structure of the standard that can also be read.</summary>
/// <typeparam name="TSelf">The structure itself.</typeparam>
public interface IUaStructure<TSelf> : IUaStructure
    where TSelf : IUaStructure<TSelf>
{
    /// <summary>Numeric identifier (namespace 0) of the type's binary encoding.</summary>
    static abstract uint EncodingId { get; }

    /// <summary>Least number of bytes one structure takes, so that an array's declared length is refused before memory is spent on it.</summary>
    static abstract int BytesMin { get; }

    /// <summary>Reads the fields in their order; when the reader has failed the result must not be used.</summary>
    static abstract TSelf Read(ref UaReader reader);
}
