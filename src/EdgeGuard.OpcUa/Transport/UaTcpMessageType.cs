namespace EdgeGuard.OpcUa.Transport;

/// <summary>Message types of UA-TCP (OPC 10000-6, 7.1.2.2) and UA Secure Conversation (6.7.2.2).</summary>
public enum UaTcpMessageType : byte
{
    /// <summary>None of the known types.</summary>
    Unknown = 0,

    /// <summary>HEL: the client's limits and the URL it dials.</summary>
    Hello = 1,

    /// <summary>ACK: the server's limits.</summary>
    Acknowledge = 2,

    /// <summary>ERR: the reason, before the socket is closed.</summary>
    Error = 3,

    /// <summary>RHE: a server that dials the client.</summary>
    ReverseHello = 4,

    /// <summary>OPN: open or renew the channel, secured asymmetrically.</summary>
    OpenChannel = 5,

    /// <summary>MSG: a service message, secured by the channel's token.</summary>
    Message = 6,

    /// <summary>CLO: close the channel.</summary>
    CloseChannel = 7,
}
