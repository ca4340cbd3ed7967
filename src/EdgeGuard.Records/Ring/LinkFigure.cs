namespace EdgeGuard.Records.Ring;

/// <summary>
/// The figures of a link to devices, since the guard started: the one list that the link counts by, the ring has words for
/// and OPC UA has variables for. The number is the place of the word in the ring (docs/reference/ring-format.md).
/// </summary>
public enum LinkFigure : byte
{
    /// <summary>A connection is up that has answered.</summary>
    State = 0,

    /// <summary>Requests sent, reads and writes.</summary>
    Requests = 1,

    /// <summary>Answers that fitted their request.</summary>
    Answers = 2,

    /// <summary>Reads answered.</summary>
    GoodReads = 3,

    /// <summary>Reads without a usable answer, exceptions included.</summary>
    FailedReads = 4,

    /// <summary>Writes confirmed.</summary>
    GoodWrites = 5,

    /// <summary>Writes refused or not answered.</summary>
    FailedWrites = 6,

    /// <summary>Energising writes dropped because the connection was lost or the device rests; none is repeated.</summary>
    DroppedWrites = 7,

    /// <summary>Energising writes not sent, because the link was down, a removal was still unconfirmed or the value was outside its range.</summary>
    WithheldWrites = 8,

    /// <summary>Writes replaced by a newer value before they were sent; a renewal of the permit token is never sent twice.</summary>
    SupersededWrites = 9,

    /// <summary>Scans in which a permit token was still under way, so that no further one was made.</summary>
    HeldRenewals = 10,

    /// <summary>Exception answers: the device is there and refuses.</summary>
    Exceptions = 11,

    /// <summary>Exceptions 01, illegal function.</summary>
    Exception01 = 12,

    /// <summary>Exceptions 02, illegal data address.</summary>
    Exception02 = 13,

    /// <summary>Exceptions 03, illegal data value.</summary>
    Exception03 = 14,

    /// <summary>Exceptions 04, server device failure.</summary>
    Exception04 = 15,

    /// <summary>Exceptions 05, acknowledge: accepted, takes long.</summary>
    Exception05 = 16,

    /// <summary>Exceptions 06, server device busy.</summary>
    Exception06 = 17,

    /// <summary>Exceptions 08, memory parity error.</summary>
    Exception08 = 18,

    /// <summary>Exceptions 0A, gateway path unavailable.</summary>
    Exception0A = 19,

    /// <summary>Exceptions 0B, gateway target failed to respond.</summary>
    Exception0B = 20,

    /// <summary>Exceptions of another code.</summary>
    OtherExceptions = 21,

    /// <summary>Requests without an answer in time; over TCP each ends the connection.</summary>
    Timeouts = 22,

    /// <summary>Time-outs in the middle of an answer.</summary>
    TruncatedAnswers = 23,

    /// <summary>Time-outs of requests that were held back, because an earlier answer might still come or the line did not fall silent.</summary>
    DeferredRequests = 24,

    /// <summary>Answers that did not fit their request; over TCP each ends the connection.</summary>
    BadAnswers = 25,

    /// <summary>Answers of another unit than was asked.</summary>
    WrongUnit = 26,

    /// <summary>Answers to another function.</summary>
    WrongFunction = 27,

    /// <summary>Answers longer or shorter than what was asked for.</summary>
    WrongLength = 28,

    /// <summary>Writes answered with another address, value or count.</summary>
    WrongEcho = 29,

    /// <summary>Answers with a transaction id that was not sent.</summary>
    WrongTransaction = 30,

    /// <summary>Answers that are no frame of this protocol.</summary>
    Malformed = 31,

    /// <summary>Frames with a wrong checksum, on serial lines; always 0 on Modbus TCP.</summary>
    ChecksumErrors = 32,

    /// <summary>Bytes dropped because no frame was in them, on serial lines.</summary>
    NoiseBytes = 33,

    /// <summary>Answers that came too late, or twice, and were dropped.</summary>
    LateAnswers = 34,

    /// <summary>Second copies of an answer, part of the late ones.</summary>
    DuplicateAnswers = 35,

    /// <summary>Answers that came in more than one piece; harmless.</summary>
    SplitAnswers = 36,

    /// <summary>Receptions with more bytes behind an answer; harmless in themselves.</summary>
    GluedAnswers = 37,

    /// <summary>Answers taken with transaction id 0, as the site file allows.</summary>
    ZeroTransactionIds = 38,

    /// <summary>Broadcasts sent; none is answered.</summary>
    Broadcasts = 39,

    /// <summary>Connections or ports opened, whether answered or not; all but the first are reconnects.</summary>
    Openings = 40,

    /// <summary>Connections proved by an answer.</summary>
    Connects = 41,

    /// <summary>Proved connections lost, or closed after a failure.</summary>
    Losses = 42,

    /// <summary>Requests in which the connection broke; a write may or may not have arrived.</summary>
    BrokenRequests = 43,

    /// <summary>Connections closed because nothing more came: half-open, or a device that is off.</summary>
    SilentClosings = 44,

    /// <summary>Attempts to connect that were refused.</summary>
    RefusedConnects = 45,

    /// <summary>Attempts to connect without an answer, or without a way to the host.</summary>
    UnreachedConnects = 46,

    /// <summary>Attempts to open that failed otherwise: the serial port, its rights, its settings, TLS.</summary>
    FailedConnects = 47,

    /// <summary>Connections opened, then closed or silent before any answer.</summary>
    UnprovedConnects = 48,

    /// <summary>Waits between two attempts to connect, growing with jitter to the cap.</summary>
    BackOffs = 49,

    /// <summary>Poll rounds skipped because the one before took too long.</summary>
    PollOverruns = 50,

    /// <summary>Poll requests read in parts since the device refuses a gap.</summary>
    SplitRequests = 51,

    /// <summary>Devices that refuse a function by which single values are written, and get them by the other one since; registers and coils apart.</summary>
    ReplacedFunctions = 52,

    /// <summary>Faults of the software that no outcome describes.</summary>
    Faults = 53,

    /// <summary>From the sending of the last answered request to its answer.</summary>
    RoundTripLast = 54,

    /// <summary>The longest round trip since the guard started.</summary>
    RoundTripMax = 55,
}
