namespace EdgeGuard.Modbus.Client;

/// <summary>
/// What a link has seen since it was made. Every request ends as exactly one of good, exception, time-out, bad answer,
/// lost connection or broadcast, so the six sum to the requests whenever none is open. The wrong-kinds split the bad
/// answers by cause.
/// </summary>
/// <param name="Requests">Transactions begun on an open connection.</param>
/// <param name="Good">Answers that fit.</param>
/// <param name="Exceptions">Exception answers.</param>
/// <param name="Timeouts">Transactions without an answer in time; over TCP each closed the connection.</param>
/// <param name="BadAnswers">Answers that did not fit; over TCP each closed the connection.</param>
/// <param name="Lost">Connections that broke during a transaction.</param>
/// <param name="Late">Late or repeated answers that were dropped.</param>
/// <param name="Reconnects">Successful connects after the first.</param>
public readonly record struct LinkCounters(
    long Requests, long Good, long Exceptions, long Timeouts, long BadAnswers, long Lost, long Late, long Reconnects)
{
    /// <summary>Broadcasts sent (serial lines); none is ever answered.</summary>
    public long Broadcasts { get; init; }

    /// <summary>Of the late ones: second copies of an answer that had been taken.</summary>
    public long Duplicates { get; init; }

    /// <summary>Bad answers: another unit's.</summary>
    public long WrongUnit { get; init; }

    /// <summary>Bad answers: to another function.</summary>
    public long WrongFunction { get; init; }

    /// <summary>Bad answers: PDU longer or shorter than it must be.</summary>
    public long WrongLength { get; init; }

    /// <summary>Bad answers: a write echoed with another address, value or quantity.</summary>
    public long WrongEcho { get; init; }

    /// <summary>Bad answers: a transaction id never sent on this connection.</summary>
    public long WrongTransaction { get; init; }

    /// <summary>Bad answers: not a frame of this protocol (protocol id, length field, exception code 0, unknown function).</summary>
    public long Malformed { get; init; }

    /// <summary>Bad answers: the CRC did not fit (RTU).</summary>
    public long BadCrc { get; init; }

    /// <summary>Of the time-outs: part of an answer had come.</summary>
    public long Truncated { get; init; }

    /// <summary>Answers that came in more than one piece; harmless.</summary>
    public long Split { get; init; }

    /// <summary>Receptions in which more bytes followed a whole answer; harmless in themselves.</summary>
    public long Glued { get; init; }

    /// <summary>Answers taken with transaction id 0, by option.</summary>
    public long ZeroTransactionIds { get; init; }

    /// <summary>Bytes dropped because no frame was expected or none could be found in them (RTU).</summary>
    public long Noise { get; init; }

    /// <summary>Of the time-outs: not sent at all, because an earlier answer of that unit may still come or the line did not fall silent (RTU).</summary>
    public long Deferred { get; init; }
}
