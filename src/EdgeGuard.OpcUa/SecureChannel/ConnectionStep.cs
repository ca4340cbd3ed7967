namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>Why <see cref="ChannelConnection.Step"/> returned.</summary>
public enum ConnectionStep : byte
{
    /// <summary>The connection has ended: send what is in the output, then close the socket.</summary>
    Closed = 0,

    /// <summary>More bytes are needed.</summary>
    NeedMore = 1,

    /// <summary>A message is complete.</summary>
    Message = 2,

    /// <summary>The peer gave up a message it had begun.</summary>
    Aborted = 3,
}
