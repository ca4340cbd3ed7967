using System.Globalization;

namespace EdgeGuard.OpcUa;

/// <summary>
/// Identifier of a node (OPC 10000-3). A number sits in the struct itself, so numeric identifiers allocate nothing.
/// The default value is the null NodeId (ns=0, i=0).
/// </summary>
public readonly struct NodeId : IEquatable<NodeId>
{
    private readonly object? _identifier;
    private readonly uint _number;
    private readonly ushort _namespaceIndex;
    private readonly NodeIdType _type;

    /// <summary>A numeric identifier.</summary>
    public NodeId(ushort namespaceIndex, uint number)
    {
        (_namespaceIndex, _number) = (namespaceIndex, number);
    }

    /// <summary>A text identifier; null counts as empty.</summary>
    public NodeId(ushort namespaceIndex, string? text)
    {
        (_namespaceIndex, _type, _identifier) = (namespaceIndex, NodeIdType.Text, text ?? "");
    }

    /// <summary>A GUID identifier.</summary>
    public NodeId(ushort namespaceIndex, Guid guid)
    {
        (_namespaceIndex, _type, _identifier) = (namespaceIndex, NodeIdType.Guid, guid);
    }

    /// <summary>An opaque identifier; null counts as empty. The octets must not be changed afterwards.</summary>
    public NodeId(ushort namespaceIndex, byte[]? octets)
    {
        (_namespaceIndex, _type, _identifier) = (namespaceIndex, NodeIdType.Opaque, octets ?? []);
    }

    /// <summary>A numeric identifier of namespace 0.</summary>
    public NodeId(uint number)
    {
        _number = number;
    }

    /// <summary>Index into the server's NamespaceArray.</summary>
    public ushort NamespaceIndex => _namespaceIndex;

    /// <summary>Kind of identifier.</summary>
    public NodeIdType Type => _type;

    /// <summary>The number of a numeric identifier, else 0.</summary>
    public uint Number => _number;

    /// <summary>The text of a text identifier, else null.</summary>
    public string? Text => _identifier as string;

    /// <summary>The GUID of a GUID identifier, else the empty one.</summary>
    public Guid Guid => _identifier is Guid guid ? guid : default;

    /// <summary>The octets of an opaque identifier, else null.</summary>
    public byte[]? Octets => _identifier as byte[];

    /// <summary>Whether this identifies no node (namespace 0 and a zero or empty identifier).</summary>
    public bool IsNull => _namespaceIndex == 0 && _type switch
    {
        NodeIdType.Numeric => _number == 0,
        NodeIdType.Text => ((string)_identifier!).Length == 0,
        NodeIdType.Guid => (Guid)_identifier! == Guid.Empty,
        _ => ((byte[])_identifier!).Length == 0,
    };

    /// <summary>Whether this is the number <paramref name="number"/> of namespace 0.</summary>
    public bool IsStandard(uint number) => _namespaceIndex == 0 && _type == NodeIdType.Numeric && _number == number;

    /// <inheritdoc/>
    public bool Equals(NodeId other)
    {
        if (_namespaceIndex != other._namespaceIndex || _type != other._type || _number != other._number)
        {
            return false;
        }

        return _type switch
        {
            NodeIdType.Numeric => true,
            NodeIdType.Text => string.Equals((string)_identifier!, (string)other._identifier!, StringComparison.Ordinal),
            NodeIdType.Guid => (Guid)_identifier! == (Guid)other._identifier!,
            _ => ((byte[])_identifier!).AsSpan().SequenceEqual((byte[])other._identifier!),
        };
    }

    /// <inheritdoc/>
    public override bool Equals(object? obj) => obj is NodeId other && Equals(other);

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        int identifier = _type switch
        {
            NodeIdType.Numeric => unchecked((int)(_number * 0x9E3779B1u)),
            NodeIdType.Text => string.GetHashCode((string)_identifier!, StringComparison.Ordinal),
            NodeIdType.Guid => ((Guid)_identifier!).GetHashCode(),
            _ => OctetHash((byte[])_identifier!),
        };
        return unchecked(identifier ^ (_namespaceIndex * 397) ^ (int)_type);
    }

    /// <summary>Equality by value.</summary>
    public static bool operator ==(NodeId left, NodeId right) => left.Equals(right);

    /// <summary>Inequality by value.</summary>
    public static bool operator !=(NodeId left, NodeId right) => !left.Equals(right);

    /// <summary>The text form of OPC 10000-6: <c>ns=1;s=abc</c>, the namespace left out when it is 0.</summary>
    public override string ToString()
    {
        string prefix = _namespaceIndex == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"ns={_namespaceIndex};");
        return _type switch
        {
            NodeIdType.Numeric => prefix + "i=" + _number.ToString(CultureInfo.InvariantCulture),
            NodeIdType.Text => prefix + "s=" + Text,
            NodeIdType.Guid => prefix + "g=" + Guid.ToString("D"),
            _ => prefix + "b=" + Convert.ToBase64String(Octets!),
        };
    }

    /// <summary>Reads the text form; false (and the null NodeId) when it is not one.</summary>
    public static bool TryParse(string? text, out NodeId nodeId)
    {
        nodeId = default;
        ReadOnlySpan<char> rest = text;
        ushort ns = 0;
        if (rest.StartsWith("ns="))
        {
            int end = rest.IndexOf(';');
            if (end < 0 || !ushort.TryParse(rest[3..end], NumberStyles.None, CultureInfo.InvariantCulture, out ns))
            {
                return false;
            }

            rest = rest[(end + 1)..];
        }

        return rest.Length >= 2 && rest[1] == '=' && TryParseIdentifier(ns, rest[0], rest[2..], out nodeId);
    }

    private static bool TryParseIdentifier(ushort ns, char kind, ReadOnlySpan<char> text, out NodeId nodeId)
    {
        nodeId = default;
        switch (kind)
        {
            case 'i' when uint.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out uint number):
                nodeId = new NodeId(ns, number);
                return true;
            case 's':
                nodeId = new NodeId(ns, text.ToString());
                return true;
            case 'g' when Guid.TryParseExact(text, "D", out Guid guid):
                nodeId = new NodeId(ns, guid);
                return true;
            case 'b':
                byte[] octets = new byte[text.Length];
                bool valid = Convert.TryFromBase64Chars(text, octets, out int length);
                nodeId = valid ? new NodeId(ns, octets[..length]) : default;
                return valid;
            default:
                return false;
        }
    }

    private static int OctetHash(ReadOnlySpan<byte> octets)
    {
        HashCode hash = default;
        hash.AddBytes(octets);
        return hash.ToHashCode();
    }
}
