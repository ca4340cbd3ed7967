using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Records.Journal;
using EdgeGuard.Records.Ring;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Writes one alarm. As with a bypass the ring tells the time that is left, rounded up to seconds; the moment of the end is
/// worked out once and kept while it fits. Person and reason are read when an alarm becomes hidden or its end moves.
/// </summary>
internal sealed class AlarmWriter(VariableNode state, HiddenNodes? hidden, int unit, FunctionId alarm)
{
    private const int WaverMs = 2_000;
    private const int MsPerSecond = 1_000;

    private AlarmState _hiddenAs = AlarmState.Normal;
    private long _untilUnixMs;
    private (string Person, string Reason) _who = ("", "");

    public void Write(ScanRingReader ring, long scanUnixMs, UaDateTime scan)
    {
        ScanRingAlarm now = ring.ReadAlarm(unit, alarm);
        state.Set(new DataValue(new Variant((uint)now.State), StatusCode.Good, scan));
        if (hidden is null)
        {
            return;
        }

        var shown = (AlarmState)now.State;
        bool shelved = shown == AlarmState.Shelved;
        bool byPerson = shelved || shown == AlarmState.OutOfService;
        long untilUnixMs = shelved ? scanUnixMs + ((long)now.ShelfSecondsLeft * MsPerSecond) : 0;
        if (shown != _hiddenAs || Math.Abs(untilUnixMs - _untilUnixMs) > WaverMs)
        {
            (_hiddenAs, _untilUnixMs) = (shown, untilUnixMs);
            _who = byPerson ? ring.ReadHiddenAlarm(unit, alarm) : ("", AlarmTexts.Why(now.Suppression));
        }

        hidden.ShelvedUntil.Set(shelved ? new DataValue(new Variant(UaDateTime.FromUnixMs(_untilUnixMs)), StatusCode.Good, scan) : new DataValue(default, StatusCode.BadNoData, scan));
        SetText(hidden.HiddenBy, _who.Person, scan);
        SetText(hidden.HiddenReason, _who.Reason, scan);
    }

    private static void SetText(VariableNode node, string text, UaDateTime scan) =>
        node.Set(text.Length == 0 ? new DataValue(default, StatusCode.BadNoData, scan) : new DataValue(new Variant(text), StatusCode.Good, scan));
}
