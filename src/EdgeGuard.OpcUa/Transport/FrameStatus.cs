namespace EdgeGuard.OpcUa.Transport;

/// <summary>What stands at the front of the received bytes.</summary>
public enum FrameStatus : byte
{
    /// <summary>Not a chunk that may be received; the connection must end.</summary>
    Invalid = 0,

    /// <summary>A chunk that is not complete yet.</summary>
    Incomplete = 1,

    /// <summary>A complete chunk.</summary>
    Complete = 2,
}
