using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Records.Journal;
using EdgeGuard.Records.Ring;

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
        state.Set(new Variant((uint)now.State), scan);
        if (hidden is null)
        {
            return;
        }

        var shown = (AlarmState)now.State;
        bool shelved = shown == AlarmState.Shelved;
        bool byPerson = shelved || shown == AlarmState.OutOfService;
        bool moves = _until.Write(hidden.ShelvedUntil, shelved, now.ShelfSecondsLeft, scanUnixMs, scan);
        if (shown != _hiddenAs || moves)
        {
            _hiddenAs = shown;
            _who = byPerson ? ring.ReadHiddenAlarm(unit, alarm) : ("", AlarmTexts.Why(now.Suppression));
        }

        hidden.HiddenBy.SetText(_who.Person, scan);
        hidden.HiddenReason.SetText(_who.Reason, scan);
    }
}
