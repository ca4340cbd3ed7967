namespace EdgeGuard.OpcUa;

/// <summary>
/// A structure with its type (OPC 10000-6, 5.2.2.15). A decoded body stays bytes until somebody asks for the type it is
/// known to have, so an unknown type passes through unchanged and costs nothing. A null reference is the null object.
/// </summary>
public sealed class ExtensionObject
{
    /// <summary>An object that holds encoded bytes, or none.</summary>
    /// <param name="typeId">Identifier of the encoding, not of the data type.</param>
    /// <param name="encoding">How the body is encoded.</param>
    /// <param name="body">The bytes; null and empty differ on the wire.</param>
    public ExtensionObject(NodeId typeId, ExtensionObjectEncoding encoding, byte[]? body)
    {
        (TypeId, Encoding, Body) = (typeId, encoding, body);
    }

    /// <summary>An object that is encoded when it is written.</summary>
    public ExtensionObject(IUaStructure structure)
    {
        ArgumentNullException.ThrowIfNull(structure);
        (TypeId, Encoding, Structure) = (new NodeId(structure.BinaryEncodingId), ExtensionObjectEncoding.Binary, structure);
    }

    /// <summary>Identifier of the encoding, for example i=886 for Range in binary.</summary>
    public NodeId TypeId { get; }

    /// <summary>How the body is encoded.</summary>
    public ExtensionObjectEncoding Encoding { get; }

    /// <summary>The encoded bytes; null when there are none or when <see cref="Structure"/> is set.</summary>
    public byte[]? Body { get; }

    /// <summary>The structure to write, or null.</summary>
    public IUaStructure? Structure { get; }

    /// <summary>Whether the body is a <typeparamref name="T"/> in the binary encoding.</summary>
    public bool Is<T>()
        where T : IUaStructure<T> => Encoding == ExtensionObjectEncoding.Binary && TypeId.IsStandard(T.EncodingId);

    /// <summary>Decodes the body; anything but exactly one <typeparamref name="T"/> is refused.</summary>
    public StatusCode TryDecode<T>(UaLimits limits, out T? value)
        where T : IUaStructure<T>
    {
        value = default;
        if (Structure is T already)
        {
            value = already;
            return StatusCode.Good;
        }

        if (!Is<T>() || Body is null)
        {
            return StatusCode.BadDecodingError;
        }

        var reader = new UaReader(Body, limits);
        T decoded = T.Read(ref reader);
        if (reader.Failed)
        {
            return reader.Status;
        }

        if (reader.Remaining != 0)
        {
            return StatusCode.BadDecodingError;
        }

        value = decoded;
        return StatusCode.Good;
    }
}
