namespace EdgeGuard.Modbus.Pdu;

/// <summary>Verdict on an answer held against its request. Zero is never good.</summary>
public enum AnswerStatus : byte
{
    /// <summary>Nothing was judged.</summary>
    None = 0,

    /// <summary>The answer fits the request.</summary>
    Ok = 1,

    /// <summary>A well-formed exception answer to the function asked for.</summary>
    DeviceException = 2,

    /// <summary>The function is neither the one asked for nor its exception.</summary>
    WrongFunction = 3,

    /// <summary>The answer is longer or shorter than it says or than it must be.</summary>
    WrongLength = 4,

    /// <summary>The byte count is not the one of the quantity asked for.</summary>
    WrongByteCount = 5,

    /// <summary>A write was echoed with another address, value or quantity.</summary>
    WrongEcho = 6,

    /// <summary>An exception answer with code 0.</summary>
    WrongExceptionCode = 7,
}
