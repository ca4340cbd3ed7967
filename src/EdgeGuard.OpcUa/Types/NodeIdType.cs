namespace EdgeGuard.OpcUa;

/// <summary>Kinds of identifier of a <see cref="NodeId"/>.</summary>
public enum NodeIdType : byte
{
    /// <summary>A number; 0 in namespace 0 is the null NodeId.</summary>
    Numeric = 0,

    /// <summary>A text.</summary>
    Text = 1,

    /// <summary>A GUID.</summary>
    Guid = 2,

    /// <summary>Octets.</summary>
    Opaque = 3,
}
