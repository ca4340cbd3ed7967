namespace EdgeGuard.Modbus.Client;

/// <summary>
/// What a link counts, since it was made. Every request ends as exactly one of answer, exception, time-out, bad answer, broken
/// request or broadcast, so the six sum to the requests whenever none is open. The names are those under which the guard
/// publishes them; what each says about the line stands in docs/reference/modbus.md.
/// </summary>
public enum LinkCounter : byte
{
    /// <summary>Transactions begun on an open connection.</summary>
    Requests = 0,

    /// <summary>Answers that fit.</summary>
    Answers = 1,

    /// <summary>Exception answers.</summary>
    Exceptions = 2,

    /// <summary>Transactions without an answer in time; over TCP each closed the connection.</summary>
    Timeouts = 3,

    /// <summary>Answers that did not fit; over TCP each closed the connection.</summary>
    BadAnswers = 4,

    /// <summary>Transactions in which the connection broke.</summary>
    BrokenRequests = 5,

    /// <summary>Broadcasts sent (serial lines); none is ever answered.</summary>
    Broadcasts = 6,

    /// <summary>Late or repeated answers that were dropped.</summary>
    LateAnswers = 7,

    /// <summary>Of the late ones: second copies of an answer that had been taken.</summary>
    DuplicateAnswers = 8,

    /// <summary>Bad answers: another unit's.</summary>
    WrongUnit = 9,

    /// <summary>Bad answers: to another function.</summary>
    WrongFunction = 10,

    /// <summary>Bad answers: PDU longer or shorter than it must be.</summary>
    WrongLength = 11,

    /// <summary>Bad answers: a write echoed with another address, value or quantity.</summary>
    WrongEcho = 12,

    /// <summary>Bad answers: a transaction id never sent on this connection.</summary>
    WrongTransaction = 13,

    /// <summary>Bad answers: not a frame of this protocol (protocol id, length field, exception code 0, unknown function).</summary>
    Malformed = 14,

    /// <summary>Bad answers: the CRC did not fit (RTU).</summary>
    ChecksumErrors = 15,

    /// <summary>Of the time-outs: part of an answer had come.</summary>
    TruncatedAnswers = 16,

    /// <summary>Of the time-outs: not sent at all, because an earlier answer of that unit may still come or the line did not fall silent (RTU).</summary>
    DeferredRequests = 17,

    /// <summary>Answers that came in more than one piece; harmless.</summary>
    SplitAnswers = 18,

    /// <summary>Receptions in which more bytes followed a whole answer; harmless in themselves.</summary>
    GluedAnswers = 19,

    /// <summary>Answers taken with transaction id 0, by option.</summary>
    ZeroTransactionIds = 20,

    /// <summary>Bytes dropped because no frame was expected or none could be found in them (RTU).</summary>
    NoiseBytes = 21,

    /// <summary>Exceptions 01, illegal function.</summary>
    Exception01 = 22,

    /// <summary>Exceptions 02, illegal data address.</summary>
    Exception02 = 23,

    /// <summary>Exceptions 03, illegal data value.</summary>
    Exception03 = 24,

    /// <summary>Exceptions 04, server device failure.</summary>
    Exception04 = 25,

    /// <summary>Exceptions 05, acknowledge.</summary>
    Exception05 = 26,

    /// <summary>Exceptions 06, server device busy.</summary>
    Exception06 = 27,

    /// <summary>Exceptions 08, memory parity error.</summary>
    Exception08 = 28,

    /// <summary>Exceptions 0A, gateway path unavailable.</summary>
    Exception0A = 29,

    /// <summary>Exceptions 0B, gateway target failed to respond.</summary>
    Exception0B = 30,

    /// <summary>Exceptions of any other code.</summary>
    OtherExceptions = 31,

    /// <summary>Connections or ports opened; all but the first are reconnects.</summary>
    Openings = 32,

    /// <summary>Connections closed because the peer, possibly at the other end of a half-open connection, sent nothing any more.</summary>
    SilentClosings = 33,
}
