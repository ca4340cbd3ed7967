using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Records.Journal;

/// <summary>
/// The one register of event ids: number and stable text. Texts and numbers stand in journals that are kept for
/// years, so a row is never changed or removed and a number never given again; docs/reference/event-ids.csv is the
/// reviewed copy and a test compares the two.
/// </summary>
public static class EventRegistry
{
    private static readonly SortedDictionary<int, string> Texts = new()
    {
        [(int)ShellEventId.FirstRun] = "first-run",
        [(int)ShellEventId.CleanStopFound] = "clean-stop-found",
        [(int)ShellEventId.UncleanStopFound] = "unclean-stop-found",
        [(int)ShellEventId.RunStarted] = "run-started",
        [(int)ShellEventId.CleanStop] = "clean-stop",
        [(int)ShellEventId.ConfigurationDigest] = "configuration-digest",
        [(int)ShellEventId.StopAsked] = "stop-asked",
        [(int)ShellEventId.ScanLoopBroken] = "scan-loop-broken",
        [(int)ShellEventId.StopUnconfirmed] = "stop-unconfirmed",
        [(int)ShellEventId.TornTailMoved] = "torn-tail-moved",
        [(int)ShellEventId.ChainBreak] = "chain-break",
        [(int)ShellEventId.JournalRecovered] = "journal-recovered",
        [(int)ShellEventId.EventsLost] = "events-lost",
        [(int)ShellEventId.EntriesLost] = "entries-lost",
        [(int)ShellEventId.LinkUp] = "link-up",
        [(int)ShellEventId.LinkDown] = "link-down",
        [(int)ShellEventId.WriteFailed] = "write-failed",
        [(int)ShellEventId.SettingsDiffer] = "settings-differ",
        [(int)ShellEventId.SettingsAgree] = "settings-agree",
        [(int)ShellEventId.FunctionReplaced] = "function-replaced",
        [(int)ShellEventId.PollFails] = "poll-fails",
        [(int)ShellEventId.CertificateEnds] = "certificate-ends",
        [(int)ShellEventId.RequestReceived] = "request-received",
        [(int)ShellEventId.RequestRejected] = "request-rejected",
        [(int)ShellEventId.ClockStep] = "clock-step",
        [(int)ShellEventId.ScanOverrun] = "scan-overrun",
        [(int)ShellEventId.RecordingDropped] = "recording-dropped",
        [(int)ShellEventId.RecordingFailed] = "recording-failed",
        [(int)ShellEventId.RecordingRecovered] = "recording-recovered",
        [(int)ShellEventId.ProtectionStatement] = "protection-statement",
        [(int)ShellEventId.HiddenAlarmReturned] = "hidden-alarm-returned",
        [(int)ShellEventId.PublisherStarted] = "publisher-started",
        [(int)ShellEventId.PublisherEnded] = "publisher-ended",
        [(int)ShellEventId.PublisherRestarted] = "publisher-restarted",
        [(int)ShellEventId.PublisherStartFailed] = "publisher-start-failed",
        [(int)ShellEventId.PublisherOverMemory] = "publisher-over-memory",
        [(int)ShellEventId.PublisherSilent] = "publisher-silent",
        [(int)ShellEventId.PublisherStopped] = "publisher-stopped",
        [(int)ShellEventId.FiguresTaken] = "figures-taken",
        [(int)ShellEventId.FiguresNone] = "figures-none",
        [(int)ShellEventId.FiguresDamaged] = "figures-damaged",
        [(int)ShellEventId.LearntDiscarded] = "learnt-discarded",
        [(int)ShellEventId.FiguresSaved] = "figures-saved",
        [(int)ShellEventId.FiguresFailed] = "figures-failed",
        [(int)ShellEventId.FiguresRecovered] = "figures-recovered",
        [(int)EventId.Trip] = "trip",
        [(int)EventId.Consequence] = "consequence",
        [(int)EventId.CauseGone] = "cause-gone",
        [(int)EventId.Reset] = "reset",
        [(int)EventId.ControlledShutdown] = "controlled-shutdown",
        [(int)EventId.AlarmActive] = "alarm-active",
        [(int)EventId.AlarmGone] = "alarm-gone",
        [(int)EventId.Acknowledged] = "acknowledged",
        [(int)EventId.RepeatedResets] = "repeated-resets",
        [(int)EventId.RepeatedResetsGone] = "repeated-resets-gone",
        [(int)EventId.StateChanged] = "state-changed",
        [(int)EventId.StartAccepted] = "start-accepted",
        [(int)EventId.FlowProved] = "flow-proved",
        [(int)EventId.FlowZeroSeen] = "flow-zero-seen",
        [(int)EventId.PermitGranted] = "permit-granted",
        [(int)EventId.PermitWithdrawn] = "permit-withdrawn",
        [(int)EventId.RampEnvelope] = "ramp-envelope",
        [(int)EventId.PowerProvedOff] = "power-proved-off",
        [(int)EventId.PowerNotRemoved] = "power-not-removed",
        [(int)EventId.RampHeld] = "ramp-held",
        [(int)EventId.RampReleased] = "ramp-released",
        [(int)EventId.RequestAccepted] = "request-accepted",
        [(int)EventId.RequestRefused] = "request-refused",
        [(int)EventId.FoundOutputs] = "found-outputs",
        [(int)EventId.ReadBackDiffers] = "read-back-differs",
        [(int)EventId.KeyChanged] = "key-changed",
        [(int)EventId.WatchdogDropped] = "watchdog-dropped",
        [(int)EventId.WouldTrip] = "would-trip",
        [(int)EventId.BypassBegun] = "bypass-begun",
        [(int)EventId.BypassEnded] = "bypass-ended",
        [(int)EventId.BypassExpired] = "bypass-expired",
        [(int)EventId.BypassedDemand] = "bypassed-demand",
        [(int)EventId.TripClassified] = "trip-classified",
        [(int)EventId.AlarmShelved] = "alarm-shelved",
        [(int)EventId.AlarmUnshelved] = "alarm-unshelved",
        [(int)EventId.AlarmShelvingExpired] = "alarm-shelving-expired",
        [(int)EventId.AlarmRemovedFromService] = "alarm-removed-from-service",
        [(int)EventId.AlarmReturnedToService] = "alarm-returned-to-service",
        [(int)EventId.AlarmSuppressed] = "alarm-suppressed",
        [(int)EventId.AlarmSuppressionEnded] = "alarm-suppression-ended",
        [(int)EventId.ForceBegun] = "force-begun",
        [(int)EventId.ForceEnded] = "force-ended",
        [(int)EventId.ForceExpired] = "force-expired",
        [(int)EventId.ForceEndedByTrip] = "force-ended-by-trip",
        [(int)EventId.ForcedDemand] = "forced-demand",
        [(int)EventId.LearningBegun] = "learning-begun",
        [(int)EventId.Learnt] = "learnt",
        [(int)EventId.NotLearnable] = "not-learnable",
        [(int)ShellEventId.Note] = "note",
    };

    /// <summary>All ids with their texts, by rising number.</summary>
    public static IReadOnlyDictionary<int, string> All => Texts;

    /// <summary>Stable text of an id.</summary>
    /// <param name="id">Number of the event.</param>
    /// <returns>The text; "unregistered" for a number this version does not know, so that no event is ever lost for want of a name.</returns>
    public static string TextOf(int id) => Texts.TryGetValue(id, out string? text) ? text : "unregistered";
}
