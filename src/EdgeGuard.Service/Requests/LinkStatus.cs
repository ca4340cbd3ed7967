namespace EdgeGuard.Service.Requests;

/// <summary>State and counters of one link.</summary>
/// <param name="Name">Name of the link.</param>
/// <param name="Online">True while it is connected and has answered.</param>
/// <param name="GoodReads">Answered poll requests.</param>
/// <param name="FailedReads">Poll requests without a usable answer.</param>
/// <param name="GoodWrites">Confirmed writes.</param>
/// <param name="FailedWrites">Writes refused or not answered.</param>
/// <param name="DroppedWrites">Energising writes dropped with a lost link.</param>
/// <param name="Timeouts">Transactions that ran into their limit.</param>
/// <param name="Connects">Proved connections.</param>
/// <param name="Losses">Lost connections.</param>
/// <param name="PollOverruns">Poll rounds skipped.</param>
/// <param name="Faults">Faults of the software.</param>
public sealed record LinkStatus(string Name, bool Online, long GoodReads, long FailedReads, long GoodWrites, long FailedWrites, long DroppedWrites, long Timeouts, long Connects, long Losses, long PollOverruns, long Faults)
{
    /// <summary>Exception answers of devices, to reads and writes.</summary>
    public long Exceptions { get; init; }

    /// <summary>Answers that did not fit their request.</summary>
    public long BadAnswers { get; init; }

    /// <summary>Poll requests that a device refused to answer across a gap, and that are read in parts since.</summary>
    public long SplitRequests { get; init; }

    /// <summary>Certificates of a secured link; null for one in the clear.</summary>
    public IReadOnlyList<CertificateReport>? Certificates { get; init; }

    /// <summary>Devices that refuse a function by which single values are written, and get them by the other one since; registers and coils apart.</summary>
    public long ReplacedFunctions { get; init; }
}
