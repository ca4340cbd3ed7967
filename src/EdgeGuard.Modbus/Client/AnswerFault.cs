namespace EdgeGuard.Modbus.Client;

/// <summary>Why an answer was refused; for the log and for commissioning, the reaction is always the same.</summary>
public enum AnswerFault : byte
{
    /// <summary>No fault.</summary>
    None = 0,

    /// <summary>The protocol identifier is not 0: the peer does not speak Modbus TCP.</summary>
    ProtocolId = 1,

    /// <summary>The length field is outside 2 to 254.</summary>
    FrameLength = 2,

    /// <summary>A transaction identifier that this connection never sent, or an answer when none is due.</summary>
    TransactionId = 3,

    /// <summary>The answer of another unit.</summary>
    UnitId = 4,

    /// <summary>The answer to another function.</summary>
    Function = 5,

    /// <summary>The PDU is longer or shorter than it must be, or its byte count is wrong.</summary>
    PduLength = 6,

    /// <summary>A write was echoed with another address, value or quantity.</summary>
    Echo = 7,

    /// <summary>An exception answer with code 0.</summary>
    ExceptionCode = 8,

    /// <summary>RTU: the CRC does not fit; a disturbed line, another bit rate or parity, or two devices that answer at once.</summary>
    Crc = 9,

    /// <summary>RTU: a function whose frame length cannot be told from its bytes.</summary>
    UnknownFunction = 10,
}
