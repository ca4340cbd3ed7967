namespace EdgeGuard.Records.Ring;

/// <summary>The words for the figures of links: what each counts, and what to look for in the field when it rises.</summary>
public static class LinkFigureTexts
{
    /// <summary>How many figures a link has; arrays indexed by <see cref="LinkFigure"/> have this length.</summary>
    public const int Count = (int)LinkFigure.RoundTripMax + 1;

    private static readonly LinkFigureText[] Table =
    [
        new(LinkFigure.State, LinkFigureKind.State, "A connection is up that has answered", string.Empty),
        new(LinkFigure.Requests, LinkFigureKind.Work, "requests sent, reads and writes", string.Empty),
        new(LinkFigure.Answers, LinkFigureKind.Work, "answers that fitted their request", string.Empty),
        new(LinkFigure.GoodReads, LinkFigureKind.Work, "reads answered", string.Empty),
        new(LinkFigure.FailedReads, LinkFigureKind.Trouble, "reads without a usable answer, exceptions included", "whichever of Exceptions, Timeouts, BadAnswers and BrokenRequests rises with it"),
        new(LinkFigure.GoodWrites, LinkFigureKind.Work, "writes confirmed", string.Empty),
        new(LinkFigure.FailedWrites, LinkFigureKind.Trouble, "writes refused or not answered", "write protection and limits of the device when exceptions rise with it, otherwise the line"),
        new(LinkFigure.DroppedWrites, LinkFigureKind.Trouble, "energising writes dropped because the connection was lost or the device rests; none is repeated", "why the connection was lost"),
        new(LinkFigure.WithheldWrites, LinkFigureKind.Trouble, "energising writes not sent, because the link was down, a removal was still unconfirmed or the value was outside its range", "a link that is down, a removal that the device does not confirm"),
        new(LinkFigure.SupersededWrites, LinkFigureKind.Trouble, "writes replaced by a newer value before they were sent; a renewal of the permit token is never sent twice", "a line too slow for its list: fewer points, a higher bit rate, a longer scan period"),
        new(LinkFigure.HeldRenewals, LinkFigureKind.Trouble, "scans in which a permit token was still under way, so that no further one was made", "a line too slow for one token a scan: time-outs, other devices, the list of points"),
        new(LinkFigure.Exceptions, LinkFigureKind.Trouble, "exception answers: the device is there and refuses", "whichever of Exception01 to OtherExceptions rises with it"),
        new(LinkFigure.Exception01, LinkFigureKind.Trouble, "exceptions 01, illegal function", "the register map: another table for the value, function 16 instead of 06 for the write"),
        new(LinkFigure.Exception02, LinkFigureKind.Trouble, "exceptions 02, illegal data address", "a map off by one, or a block that spans a gap (maxGap)"),
        new(LinkFigure.Exception03, LinkFigureKind.Trouble, "exceptions 03, illegal data value", "a value outside the limits of the device, or too many registers at once (maxRegisters)"),
        new(LinkFigure.Exception04, LinkFigureKind.Trouble, "exceptions 04, server device failure", "the device itself: its display, its manual"),
        new(LinkFigure.Exception05, LinkFigureKind.Trouble, "exceptions 05, acknowledge: accepted, takes long", "a command that takes the device long, written each scan"),
        new(LinkFigure.Exception06, LinkFigureKind.Trouble, "exceptions 06, server device busy", "another client at the device, or polls that come too fast for it"),
        new(LinkFigure.Exception08, LinkFigureKind.Trouble, "exceptions 08, memory parity error", "the device: its memory is faulty"),
        new(LinkFigure.Exception0A, LinkFigureKind.Trouble, "exceptions 0A, gateway path unavailable", "the unit id here and in the gateway, the set-up of its serial line"),
        new(LinkFigure.Exception0B, LinkFigureKind.Trouble, "exceptions 0B, gateway target failed to respond", "power, cable, unit id, bit rate and parity of the device behind the gateway"),
        new(LinkFigure.OtherExceptions, LinkFigureKind.Trouble, "exceptions of another code", "the manual of the device; 07 stands in older issues of the protocol"),
        new(LinkFigure.Timeouts, LinkFigureKind.Trouble, "requests without an answer in time; over TCP each ends the connection", "power and cable of the device; a time-out shorter than its answer time"),
        new(LinkFigure.TruncatedAnswers, LinkFigureKind.Trouble, "time-outs in the middle of an answer", "a poor gateway that cuts answers, a disturbed line, a time-out too short for a slow bit rate"),
        new(LinkFigure.DeferredRequests, LinkFigureKind.Trouble, "time-outs of requests that were held back, because an earlier answer might still come or the line did not fall silent", "a device slower than its time-out, a second master on the line, noise"),
        new(LinkFigure.BadAnswers, LinkFigureKind.Trouble, "answers that did not fit their request; over TCP each ends the connection", "whichever of WrongUnit to ChecksumErrors rises with it"),
        new(LinkFigure.WrongUnit, LinkFigureKind.Trouble, "answers of another unit than was asked", "the unit id here and in the gateway; two devices with the same unit id"),
        new(LinkFigure.WrongFunction, LinkFigureKind.Trouble, "answers to another function", "two clients that share a poor gateway, a late answer of the device"),
        new(LinkFigure.WrongLength, LinkFigureKind.Trouble, "answers longer or shorter than what was asked for", "a device that limits the count, a gateway that cuts answers"),
        new(LinkFigure.WrongEcho, LinkFigureKind.Trouble, "writes answered with another address, value or count", "a device that limits what it is given; an adapter that hears itself (localEcho)"),
        new(LinkFigure.WrongTransaction, LinkFigureKind.Trouble, "answers with a transaction id that was not sent", "two clients that share a poor gateway; a device that always answers with id 0 (zeroTransactionIds)"),
        new(LinkFigure.Malformed, LinkFigureKind.Trouble, "answers that are no frame of this protocol", "another protocol on the port, or a serial device server in raw mode (RTU over TCP)"),
        new(LinkFigure.ChecksumErrors, LinkFigureKind.Trouble, "frames with a wrong checksum, on serial lines; always 0 on Modbus TCP", "bit rate, parity, termination, earthing of the screen, two devices that answer at once"),
        new(LinkFigure.NoiseBytes, LinkFigureKind.Trouble, "bytes dropped because no frame was in them, on serial lines", "termination and bias of the line, a second master, another bit rate"),
        new(LinkFigure.LateAnswers, LinkFigureKind.Trouble, "answers that came too late, or twice, and were dropped", "a time-out shorter than the answer time of the device; a few after a disturbance are harmless"),
        new(LinkFigure.DuplicateAnswers, LinkFigureKind.Trouble, "second copies of an answer, part of the late ones", "a gateway or network that repeats, two clients with one transaction id"),
        new(LinkFigure.SplitAnswers, LinkFigureKind.Work, "answers that came in more than one piece; harmless", string.Empty),
        new(LinkFigure.GluedAnswers, LinkFigureKind.Work, "receptions with more bytes behind an answer; harmless in themselves", string.Empty),
        new(LinkFigure.ZeroTransactionIds, LinkFigureKind.Work, "answers taken with transaction id 0, as the site file allows", string.Empty),
        new(LinkFigure.Broadcasts, LinkFigureKind.Work, "broadcasts sent; none is answered", string.Empty),
        new(LinkFigure.Openings, LinkFigureKind.Work, "connections or ports opened, whether answered or not; all but the first are reconnects", string.Empty),
        new(LinkFigure.Connects, LinkFigureKind.Work, "connections proved by an answer", string.Empty),
        new(LinkFigure.Losses, LinkFigureKind.Trouble, "proved connections lost, or closed after a failure", "whichever of Timeouts, BadAnswers and BrokenRequests rises with it"),
        new(LinkFigure.BrokenRequests, LinkFigureKind.Trouble, "requests in which the connection broke; a write may or may not have arrived", "a restart of the device, a pulled cable, its limit of connections"),
        new(LinkFigure.SilentClosings, LinkFigureKind.Trouble, "connections closed because nothing more came: half-open, or a device that is off", "a firewall or gateway that forgets connections, power and cable of the device"),
        new(LinkFigure.RefusedConnects, LinkFigureKind.Trouble, "attempts to connect that were refused", "the port; a device that serves one client only while another has it"),
        new(LinkFigure.UnreachedConnects, LinkFigureKind.Trouble, "attempts to connect without an answer, or without a way to the host", "power, address, cable, network mask, firewall"),
        new(LinkFigure.FailedConnects, LinkFigureKind.Trouble, "attempts to open that failed otherwise: the serial port, its rights, its settings, TLS", "the line of the log, which names the cause"),
        new(LinkFigure.UnprovedConnects, LinkFigureKind.Trouble, "connections opened, then closed or silent before any answer", "a device that serves one client only while another is connected, a gateway without its device"),
        new(LinkFigure.BackOffs, LinkFigureKind.Trouble, "waits between two attempts to connect, growing with jitter to the cap", "why the attempts fail"),
        new(LinkFigure.PollOverruns, LinkFigureKind.Trouble, "poll rounds skipped because the one before took too long", "time-outs of a dead device, a list too long for the line (edgeguard check prints its load)"),
        new(LinkFigure.SplitRequests, LinkFigureKind.Trouble, "poll requests read in parts since the device refuses a gap", "maxGap: a smaller one saves the first refusal at each start"),
        new(LinkFigure.ReplacedFunctions, LinkFigureKind.Trouble, "devices that refuse a function by which single values are written, and get them by the other one since; registers and coils apart", "the journal, which names the device; nothing needs to be done"),
        new(LinkFigure.Faults, LinkFigureKind.Trouble, "faults of the software that no outcome describes", "the log; anything but 0 is worth a report"),
        new(LinkFigure.RoundTripLast, LinkFigureKind.RoundTrip, "From the sending of the last answered request to its answer", string.Empty),
        new(LinkFigure.RoundTripMax, LinkFigureKind.RoundTrip, "The longest round trip since the guard started", string.Empty),
    ];

    /// <summary>All of them, in the order of the figures.</summary>
    public static IReadOnlyList<LinkFigureText> All => Table;

    /// <summary>The words for a figure.</summary>
    /// <param name="figure">The figure.</param>
    public static LinkFigureText Of(LinkFigure figure) => Table[(int)figure];
}
