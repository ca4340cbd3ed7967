using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Records.Journal;
using EdgeGuard.Records.Ring;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Writes one alarm. Person and reason are read when an alarm becomes hidden or its end moves.
/// </summary>
internal sealed class AlarmWriter(VariableNode state, HiddenNodes? hidden, int unit, FunctionId alarm)
{
    private AlarmState _hiddenAs = AlarmState.Normal;
    private EndMoment _until;
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
        bool moves = shelved && _until.Moves(scanUnixMs, now.ShelfSecondsLeft);
        if (!shelved)
        {
            _until.Clear();
        }

        if (shown != _hiddenAs || moves)
        {
            _hiddenAs = shown;
            _who = byPerson ? ring.ReadHiddenAlarm(unit, alarm) : ("", AlarmTexts.Why(now.Suppression));
        }

        hidden.ShelvedUntil.Set(_until.ToValue(scan));
        SetText(hidden.HiddenBy, _who.Person, scan);
        SetText(hidden.HiddenReason, _who.Reason, scan);
    }

    private static void SetText(VariableNode node, string text, UaDateTime scan) =>
        node.Set(text.Length == 0 ? new DataValue(default, StatusCode.BadNoData, scan) : new DataValue(new Variant(text), StatusCode.Good, scan));
}
