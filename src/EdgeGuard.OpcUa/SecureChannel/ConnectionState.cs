namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>Life of a connection.</summary>
public enum ConnectionState : byte
{
    /// <summary>Ended.</summary>
    Closed = 0,

    /// <summary>HEL or ACK is awaited.</summary>
    Handshake = 1,

    /// <summary>OPN is awaited.</summary>
    Opening = 2,

    /// <summary>Messages pass.</summary>
    Open = 3,
}
