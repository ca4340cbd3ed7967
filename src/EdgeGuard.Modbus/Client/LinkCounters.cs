namespace EdgeGuard.Modbus.Client;

/// <summary>
/// What a link has seen since it was made. Every request ends as exactly one of good, exception, time-out, bad answer
/// or lost connection, so the five sum to the requests whenever none is open.
/// </summary>
/// <param name="Requests">Transactions begun on an open connection.</param>
/// <param name="Good">Answers that fit.</param>
/// <param name="Exceptions">Exception answers.</param>
/// <param name="Timeouts">Transactions without an answer in time; each closed the connection.</param>
/// <param name="BadAnswers">Answers that did not fit; each closed the connection.</param>
/// <param name="Lost">Connections that broke during a transaction.</param>
/// <param name="Late">Late or repeated answers that were dropped.</param>
/// <param name="Reconnects">Successful connects after the first.</param>
public readonly record struct LinkCounters(
    long Requests, long Good, long Exceptions, long Timeouts, long BadAnswers, long Lost, long Late, long Reconnects);
