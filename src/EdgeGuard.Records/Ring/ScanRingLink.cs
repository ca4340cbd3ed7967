namespace EdgeGuard.Records.Ring;

/// <summary>
/// What a link to devices has been through since the guard started. The scan thread fills one a link and hands them to
/// <see cref="ScanRingWriter.Write"/>; a reader gets them back. Each figure is whole, the set is not a snapshot.
/// </summary>
public struct ScanRingLink
{
    /// <summary>A connection is up that has answered.</summary>
    public bool IsUp;

    /// <summary>Requests sent, reads and writes.</summary>
    public long Requests;

    /// <summary>Answers that fit their request.</summary>
    public long Answers;

    /// <summary>Exception answers: the device is there and refuses.</summary>
    public long Exceptions;

    /// <summary>Requests without an answer in time.</summary>
    public long Timeouts;

    /// <summary>Answers that did not fit their request.</summary>
    public long BadAnswers;

    /// <summary>Frames with a wrong checksum (serial lines; 0 on TCP, which has its own).</summary>
    public long ChecksumErrors;

    /// <summary>Answers that came too late, or twice, and were dropped.</summary>
    public long LateAnswers;

    /// <summary>Connections that were proved by an answer; all but the first are reconnects.</summary>
    public long Connects;

    /// <summary>Connections lost or closed after a failure.</summary>
    public long Losses;

    /// <summary>Writes refused or not answered.</summary>
    public long FailedWrites;

    /// <summary>Energising writes dropped because the link was lost.</summary>
    public long DroppedWrites;

    /// <summary>Poll rounds skipped because the one before took too long.</summary>
    public long PollOverruns;

    /// <summary>Faults of the software that no outcome describes.</summary>
    public long Faults;

    /// <summary>From the sending of the last answered request to its answer, µs; 0 before there was one.</summary>
    public long RoundTripLastUs;

    /// <summary>The longest of them since start, µs.</summary>
    public long RoundTripMaxUs;
}
