namespace EdgeGuard.OpcUa.Transport;

/// <summary>Fourth byte of a chunk (OPC 10000-6, 6.7.2.2).</summary>
public enum ChunkKind : byte
{
    /// <summary>More chunks of the message follow.</summary>
    Intermediate = (byte)'C',

    /// <summary>Last chunk.</summary>
    Final = (byte)'F',

    /// <summary>The sender gives the message up; the body is a status and a reason.</summary>
    Abort = (byte)'A',
}
