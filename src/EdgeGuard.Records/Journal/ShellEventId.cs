namespace EdgeGuard.Records.Journal;

/// <summary>
/// Identity of an entry that the shell writes about itself. 1–99 and from 200 up; the core owns 100–199. Numbers are
/// never reused: they stand in journals. The stable text of each stands in <see cref="EventRegistry"/>.
/// </summary>
public enum ShellEventId
{
    /// <summary>No event.</summary>
    None = 0,

    /// <summary>First entry of a run after none: there was no journal before.</summary>
    FirstRun = 1,

    /// <summary>First entry of a run: the run before ended with a clean stop.</summary>
    CleanStopFound = 2,

    /// <summary>First entry of a run: the run before ended without a clean stop (killed, power loss).</summary>
    UncleanStopFound = 3,

    /// <summary>The run began; text = program version.</summary>
    RunStarted = 4,

    /// <summary>The run ends in order; always the last entry of a run.</summary>
    CleanStop = 5,

    /// <summary>Digest of the configuration in force; text = 64 hexadecimal characters.</summary>
    ConfigurationDigest = 6,

    /// <summary>A stop was asked for (signal, service manager).</summary>
    StopAsked = 7,

    /// <summary>The scan loop broke; removal was offered to every enforced unit and the run ends without a clean stop. Text = the fault.</summary>
    ScanLoopBroken = 8,

    /// <summary>Not every cabinet confirmed the removal before the run ended; its watchdog removes the power.</summary>
    StopUnconfirmed = 9,

    /// <summary>Bytes of an unfinished last line were moved aside; text names the file.</summary>
    TornTailMoved = 10,

    /// <summary>The history before this line is damaged; a new segment begins and this entry states the break.</summary>
    ChainBreak = 11,

    /// <summary>The journal could not be written and can again; text says for how long and why.</summary>
    JournalRecovered = 12,

    /// <summary>Events of the core were lost because the queue was full; detail = how many.</summary>
    EventsLost = 13,

    /// <summary>Entries of the shell were lost because the queue was full; detail = how many.</summary>
    EntriesLost = 14,

    /// <summary>A device link came up.</summary>
    LinkUp = 20,

    /// <summary>A device link went down; reason says why.</summary>
    LinkDown = 21,

    /// <summary>A write to a device failed; reason says why.</summary>
    WriteFailed = 22,

    /// <summary>Settings of a device differ from what was commissioned; text says which.</summary>
    SettingsDiffer = 23,

    /// <summary>The settings of a device are as commissioned again.</summary>
    SettingsAgree = 24,

    /// <summary>A device refuses a function by which single values are written and gets them by another one; text says which.</summary>
    FunctionReplaced = 25,

    /// <summary>A certificate of a secured link ends within 90, 30 or 7 days, or has ended; in the last week told each day. Text says which.</summary>
    CertificateEnds = 26,

    /// <summary>A device refuses registers of its map, or is silent on a link that stands; told once a run. Text says which, and what to look at.</summary>
    PollFails = 27,

    /// <summary>A request came in; person and reason stand in the entry, detail = request id.</summary>
    RequestReceived = 30,

    /// <summary>A request was turned away before the core saw it; reason says why.</summary>
    RequestRejected = 31,

    /// <summary>The clock of the machine stepped; detail = ms.</summary>
    ClockStep = 40,

    /// <summary>Scans were late beyond the limit; detail = how many since the last such entry.</summary>
    ScanOverrun = 41,

    /// <summary>The raw recording dropped scans; detail = how many.</summary>
    RecordingDropped = 42,

    /// <summary>The raw recording cannot be written; reason says why.</summary>
    RecordingFailed = 43,

    /// <summary>The raw recording can be written again.</summary>
    RecordingRecovered = 44,

    /// <summary>A mode or fact of the site that weakens protection, stated at start (observe, watchdog bridged).</summary>
    ProtectionStatement = 50,

    /// <summary>An alarm that was shelved or out of service when the run before ended is shown again; text says which it was.</summary>
    HiddenAlarmReturned = 51,

    /// <summary>The guard started the publisher; detail = process id.</summary>
    PublisherStarted = 60,

    /// <summary>The publisher ended; text says how, detail = process id.</summary>
    PublisherEnded = 61,

    /// <summary>The guard started the publisher again; detail = process id.</summary>
    PublisherRestarted = 62,

    /// <summary>The publisher could not be started; text says why.</summary>
    PublisherStartFailed = 63,

    /// <summary>The publisher held more memory than it may and is started again; detail = bytes.</summary>
    PublisherOverMemory = 64,

    /// <summary>The publisher gave no sign of life and is started again.</summary>
    PublisherSilent = 65,

    /// <summary>The publisher was stopped by a signal and is ended and started again; detail = process id.</summary>
    PublisherStopped = 66,

    /// <summary>Counters and learnt figures of an earlier run were taken over; text says since when they count and names file and SHA-256.</summary>
    FiguresTaken = 70,

    /// <summary>There are no figures of an earlier run: counting begins at zero.</summary>
    FiguresNone = 71,

    /// <summary>The figures of an earlier run are damaged or another unit's: counting begins at zero; text says what is wrong.</summary>
    FiguresDamaged = 72,

    /// <summary>A learnt figure rests on another gas, sensor or setting and was discarded.</summary>
    LearntDiscarded = 73,

    /// <summary>The figures were saved, at a stop or once a day; text names file and SHA-256.</summary>
    FiguresSaved = 74,

    /// <summary>The figures cannot be saved; text says why.</summary>
    FiguresFailed = 75,

    /// <summary>The figures are saved again.</summary>
    FiguresRecovered = 76,

    /// <summary>A note by a person.</summary>
    Note = 200,
}
