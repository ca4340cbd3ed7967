using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Records.Ring;

/// <summary>
/// Where everything stands in the ring file; docs/reference/ring-format.md is the same in words. All numbers are
/// little-endian, every field that two processes touch at once is 8 bytes and aligned. A change of any offset or count
/// is a new <see cref="Version"/>.
/// </summary>
internal sealed class RingLayout
{
    public const ulong Magic = 0x31474E4952474445; // "EDGRING1" as ASCII, little-endian
    public const int Version = 7;
    public const int HeaderBytes = 512;
    public const int RunIdBytes = 40;
    public const int DigestBytes = 32;

    // Header, written once.
    public const int MagicAt = 0;
    public const int VersionAt = 8;
    public const int UnitCountAt = 12;
    public const int SignalCountAt = 16;
    public const int FunctionCountAt = 20;
    public const int CommandCountAt = 24;
    public const int ScanMsAt = 28;
    public const int ScanCapacityAt = 32;
    public const int EventCapacityAt = 36;
    public const int RecordBytesAt = 40;
    public const int EventBytesAt = 44;
    public const int NamesBytesAt = 48;
    public const int LinkCountAt = 52;
    public const int StartUtcAt = 56;
    public const int RunIdAt = 64;
    public const int DigestAt = 104;
    public const int LinkBytesAt = 136;
    public const int LinkFigureCountAt = 140;

    // Live figures, each written on its own by the scan thread.
    public const int ScansWrittenAt = 256;
    public const int EventsWrittenAt = 264;
    public const int HeartbeatTickAt = 320;
    public const int HeartbeatUtcAt = 328;
    public const int AllocatedBytesAt = 336;
    public const int LatenessLastAt = 344;
    public const int LatenessMaxAt = 352;
    public const int OverrunsAt = 360;
    public const int JournalHealthAt = 368;
    public const int DurableEventAt = 376;
    public const int TailDroppedAt = 384;
    public const int AlarmsTotalAt = 392;
    public const int AlarmsInTenMinutesAt = 400;
    public const int AlarmsMostInTenMinutesAt = 408;
    public const int AlarmsAverageInTenMinutesAt = 416;
    public const int AlarmFloodAt = 424;
    public const int AlarmFloodsAt = 432;
    public const int AlarmFloodPercentAt = 440;

    // Counts of alarms, two i32 a word: high and medium, low and standing, unacknowledged and shelved, suppressed and out
    // of service, chattering and stale.
    public const int AlarmCountsAt = 448;

    // One link: 8-byte words in the order of LinkFigure, each written on its own by the scan thread.
    public const int LinkBytes = ((LinkFigureTexts.Count * sizeof(long)) + 63) / 64 * 64;

    // Who bypassed a function, who forced a signal and why: sequence word, length, text.
    public const int PersonLengthAt = 8;
    public const int PersonBytes = 128;

    // What a unit was used for, each figure an f64 in the order of ScanRingUse, then hours by band.
    public const int UseBandsAt = 320;
    public const int UseBytes = 384;

    // One alarm: a word of state, suppression, flags and time left; annunciations; then, behind a sequence word, who hid it
    // last and why, each text after its length.
    public const int AlarmStateAt = 0;
    public const int AlarmAnnunciationsAt = 8;
    public const int AlarmSequenceAt = 16;
    public const int AlarmPersonAt = 24;
    public const int AlarmReasonAt = 128;
    public const int AlarmBytes = 384;
    public const int AlarmConditionFlag = 1;
    public const int AlarmChatteringFlag = 2;
    public const int AlarmStaleFlag = 4;

    // One record of a unit and scan; the sequence word comes first.
    public const int SequenceAt = 0;
    public const int ScanAt = 8;
    public const int UtcAt = 16;
    public const int UnitAt = 24;
    public const int StateAt = 28;
    public const int FirstOutAt = 29;
    public const int FlagsAt = 30;
    public const int LedSetpointAt = 32;
    public const int ElementSlopeAt = 40;
    public const int CoolSlopeAt = 48;
    public const int SitePowerAt = 56;
    public const int TripCountAt = 64;
    public const int EvaluatedAt = 68;
    public const int KnownMaskAt = 72;
    public const int SignalsAt = 80;
    public const int SignalBytes = 16;
    public const int FunctionsAt = SignalsAt + (SignalRoles.Count * SignalBytes);
    public const int FunctionBytes = 56;
    public const int CommandsAt = FunctionsAt + (FunctionIds.Count * FunctionBytes);
    public const int CommandBytes = 16;
    public const int ForcedAt = CommandsAt + (CommandRoles.Count * CommandBytes);
    public const int ForcedBytes = 32;
    public const int RecordBytes = (ForcedAt + (ForceTable.SignalsMax * ForcedBytes) + 63) / 64 * 64;

    // One event; the sequence word comes first.
    public const int EventScanAt = 16;
    public const int EventNumberAt = 8;
    public const int EventUtcAt = 24;
    public const int EventUnitAt = 32;
    public const int EventIdAt = 36;
    public const int EventFunctionAt = 38;
    public const int EventReasonAt = 39;
    public const int EventValueAt = 40;
    public const int EventLimitAt = 48;
    public const int EventDetailAt = 56;
    public const int EventBytes = 64;

    // Bits of the flags of a record.
    public const ushort PermitFlag = 1;
    public const ushort PendingDurableFlag = 2;
    public const ushort RampHeldFlag = 4;
    public const ushort PowerProvedOffFlag = 8;
    public const ushort ResetsTooOftenFlag = 16;

    // Above the bits: what the latest trip was found to have been, and its function.
    public const int TripClassShift = 5;
    public const ushort TripClassMask = 3;
    public const int LastTripShift = 8;

    public RingLayout(int unitCount, int scanCapacity, int eventCapacity, int linkCount, int namesBytes)
    {
        UnitCount = unitCount;
        ScanCapacity = scanCapacity;
        EventCapacity = eventCapacity;
        LinkCount = linkCount;
        NamesBytes = namesBytes;
        LinksAt = (HeaderBytes + namesBytes + 63) / 64 * 64;
        PersonsAt = LinksAt + ((long)linkCount * LinkBytes);
        ForcersAt = PersonsAt + ((long)unitCount * FunctionIds.Count * PersonBytes);
        UsesAt = ForcersAt + ((long)unitCount * SignalRoles.Count * 2 * PersonBytes);
        AlarmsAt = UsesAt + ((long)unitCount * UseBytes);
        RecordsAt = AlarmsAt + ((long)unitCount * FunctionIds.Count * AlarmBytes);
        EventsAt = RecordsAt + ((long)unitCount * scanCapacity * RecordBytes);
        FileBytes = EventsAt + ((long)eventCapacity * EventBytes);
    }

    public int UnitCount { get; }

    public int ScanCapacity { get; }

    public int EventCapacity { get; }

    public int LinkCount { get; }

    public int NamesBytes { get; }

    public long LinksAt { get; }

    public long PersonsAt { get; }

    public long ForcersAt { get; }

    public long UsesAt { get; }

    public long AlarmsAt { get; }

    public long RecordsAt { get; }

    public long EventsAt { get; }

    public long FileBytes { get; }

    /// <summary>Offset of the figures of a link.</summary>
    public long LinkAt(int link) => LinksAt + ((long)link * LinkBytes);

    /// <summary>Offset of the person who bypassed a function of a unit.</summary>
    public long PersonAt(int unit, FunctionId function) => PersonsAt + ((((long)unit * FunctionIds.Count) + (int)function) * PersonBytes);

    /// <summary>Offset of the person who forced a signal of a unit; the reason stands behind it.</summary>
    public long ForcerAt(int unit, SignalRole role) => ForcersAt + ((((long)unit * SignalRoles.Count) + (int)role) * 2 * PersonBytes);

    /// <summary>Offset of what a unit was used for.</summary>
    public long UseAt(int unit) => UsesAt + ((long)unit * UseBytes);

    /// <summary>Offset of an alarm of a unit; None is that of the trip.</summary>
    public long AlarmAt(int unit, FunctionId alarm) => AlarmsAt + ((((long)unit * FunctionIds.Count) + (int)alarm) * AlarmBytes);

    /// <summary>Offset of the record of a unit in the n-th scan written.</summary>
    public long RecordAt(long ordinal, int unit) => RecordsAt + (((ordinal % ScanCapacity * UnitCount) + unit) * RecordBytes);

    /// <summary>Offset of the n-th event written.</summary>
    public long EventAt(long ordinal) => EventsAt + (ordinal % EventCapacity * EventBytes);
}
