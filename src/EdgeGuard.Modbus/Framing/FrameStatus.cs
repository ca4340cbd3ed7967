namespace EdgeGuard.Modbus.Framing;

/// <summary>Verdict of a frame decoder. Zero is never good.</summary>
public enum FrameStatus : byte
{
    /// <summary>Nothing was decoded.</summary>
    None = 0,

    /// <summary>A whole frame.</summary>
    Ok = 1,

    /// <summary>The beginning of a frame; nothing wrong so far.</summary>
    NeedMore = 2,

    /// <summary>MBAP: the protocol identifier is not 0; the stream cannot be trusted any more.</summary>
    BadProtocolId = 3,

    /// <summary>The length is impossible; the stream cannot be trusted any more.</summary>
    BadLength = 4,

    /// <summary>RTU: the CRC does not fit.</summary>
    BadCrc = 5,
}
