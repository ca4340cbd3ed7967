namespace EdgeGuard.Records.Ring;

/// <summary>The figures of a link as words of the ring, written and read one by one.</summary>
internal static class RingLinkWords
{
    public static void Write(RingMap map, long at, in ScanRingLink link)
    {
        Set(map, at + RingLayout.LinkStateAt, link.IsUp ? 1 : 0);
        Set(map, at + RingLayout.LinkRequestsAt, link.Requests);
        Set(map, at + RingLayout.LinkAnswersAt, link.Answers);
        Set(map, at + RingLayout.LinkExceptionsAt, link.Exceptions);
        Set(map, at + RingLayout.LinkTimeoutsAt, link.Timeouts);
        Set(map, at + RingLayout.LinkBadAnswersAt, link.BadAnswers);
        Set(map, at + RingLayout.LinkChecksumErrorsAt, link.ChecksumErrors);
        Set(map, at + RingLayout.LinkLateAnswersAt, link.LateAnswers);
        Set(map, at + RingLayout.LinkConnectsAt, link.Connects);
        Set(map, at + RingLayout.LinkLossesAt, link.Losses);
        Set(map, at + RingLayout.LinkFailedWritesAt, link.FailedWrites);
        Set(map, at + RingLayout.LinkDroppedWritesAt, link.DroppedWrites);
        Set(map, at + RingLayout.LinkPollOverrunsAt, link.PollOverruns);
        Set(map, at + RingLayout.LinkFaultsAt, link.Faults);
        Set(map, at + RingLayout.LinkRoundTripLastAt, link.RoundTripLastUs);
        Set(map, at + RingLayout.LinkRoundTripMaxAt, link.RoundTripMaxUs);
    }

    public static ScanRingLink Read(RingMap map, long at) => new()
    {
        IsUp = Get(map, at + RingLayout.LinkStateAt) == 1,
        Requests = Get(map, at + RingLayout.LinkRequestsAt),
        Answers = Get(map, at + RingLayout.LinkAnswersAt),
        Exceptions = Get(map, at + RingLayout.LinkExceptionsAt),
        Timeouts = Get(map, at + RingLayout.LinkTimeoutsAt),
        BadAnswers = Get(map, at + RingLayout.LinkBadAnswersAt),
        ChecksumErrors = Get(map, at + RingLayout.LinkChecksumErrorsAt),
        LateAnswers = Get(map, at + RingLayout.LinkLateAnswersAt),
        Connects = Get(map, at + RingLayout.LinkConnectsAt),
        Losses = Get(map, at + RingLayout.LinkLossesAt),
        FailedWrites = Get(map, at + RingLayout.LinkFailedWritesAt),
        DroppedWrites = Get(map, at + RingLayout.LinkDroppedWritesAt),
        PollOverruns = Get(map, at + RingLayout.LinkPollOverrunsAt),
        Faults = Get(map, at + RingLayout.LinkFaultsAt),
        RoundTripLastUs = Get(map, at + RingLayout.LinkRoundTripLastAt),
        RoundTripMaxUs = Get(map, at + RingLayout.LinkRoundTripMaxAt),
    };

    private static void Set(RingMap map, long at, long value) => Volatile.Write(ref map.Word(at), value);

    private static long Get(RingMap map, long at) => Volatile.Read(ref map.Word(at));
}
