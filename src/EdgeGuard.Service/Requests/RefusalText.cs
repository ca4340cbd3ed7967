using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Service.Requests;

/// <summary>The decision of the core on a request as a sentence that says which condition is missing and what helps.</summary>
public static class RefusalText
{
    /// <summary>The sentence for an accepted or refused request.</summary>
    /// <param name="decision">The decision.</param>
    /// <param name="kind">What was asked for; None when that is not known here.</param>
    public static string Of(in GuardEvent decision, RequestKind kind = RequestKind.None) =>
        decision.Id == EventId.RequestAccepted ? "accepted" : "refused: " + Condition(decision.Reason) + Figures(decision, kind);

    private static string Condition(RefusalReason reason) => reason switch
    {
        RefusalReason.WrongState => "the unit's present state knows no such request (reset: a tripped unit; start: one that is ready, standing by or after-cooling; cool: one with a permit or in pre-flow); look at: edgeguard status",
        RefusalReason.CauseStillPresent => "the cause is still present",
        RefusalReason.NotReset => "the trip has not been reset; reset it first, then start",
        RefusalReason.JournalNotHealthy => "the journal cannot be written, or lost events in this run, so no new permit is given; look at the disk of the data folder, and after lost events restart the guard",
        RefusalReason.KeyOnLocal => "the key switch of the cabinet is on LOCAL; turn it to SUPERVISED",
        RefusalReason.ObserveOnly => "the unit only observes; its mode in the site file is \"observe\"",
        RefusalReason.RemoteResetOff => "remote reset is off for this unit; reset at the machine",
        RefusalReason.PowerNotProvedOff => "power is not proved off yet",
        RefusalReason.FlowZeroNotSeen => "the flow signal has not been seen below its limit with the blower stopped since the guard started; stop the blower and wait",
        RefusalReason.NotInStartPosition => "the cabinet is not in its start position: output 0 %, automatic, remote, setpoint near the actual value",
        RefusalReason.SettingsNotAsCommissioned => "settings of a device differ from what was commissioned, or were not read yet; the journal says which (edgeguard journal show), set them right at the device, or commission anew and take a new snapshot",
        RefusalReason.NotBypassable => "the site file does not let this function be bypassed; \"bypass\" of the unit names the functions",
        RefusalReason.BypassTime => "the time is longer than the site file allows (\"bypass\": \"maxMinutes\")",
        RefusalReason.NotBypassed => "the function is not bypassed; look at: edgeguard status",
        RefusalReason.NotForcible => "the site file does not let this signal be forced; \"force\" of the unit names the signals",
        RefusalReason.ForceRange => "the value is outside what the site file allows for this signal (\"force\": \"min\", \"max\")",
        RefusalReason.ForceTime => "the time is longer than the site file allows (\"force\": \"maxMinutes\")",
        RefusalReason.TooManyForced => $"{Core.Interlocks.ForceTable.SignalsMax} signals are forced already, as many as may be at the same time; end one (unforce)",
        RefusalReason.NotForced => "the signal is not forced; look at: edgeguard status",
        RefusalReason.ValuesForced => "a signal is forced, and the site file does not let the unit start with one (\"force\": \"startWhileForced\"); end it (unforce), look at: edgeguard status",
        RefusalReason.NothingToLearn => "the function learns nothing, or the site file does not configure it",
        RefusalReason.NoTrip => "no trip of the unit is known",
        RefusalReason.AlarmOfTrip => "the alarm is that of a trip, and the site file does not let it be hidden (\"alarms\" of the unit names those that may be)",
        RefusalReason.ShelvingTime => "the time is longer than the site file allows (\"alarms\": \"maxMinutes\"; 0 allows no shelving)",
        RefusalReason.AlarmState => "the alarm is not in a state that takes this request (shelved already, not shelved, not out of service, suppressed by design); look at: edgeguard status",
        RefusalReason.OutOfServiceOff => "the site file does not let alarms be taken out of service (\"alarms\": \"outOfService\")",
        RefusalReason.NoSuchAlarm => "there is no such alarm",
        _ => "reason number " + (int)reason,
    };

    private static string Figures(in GuardEvent decision, RequestKind kind)
    {
        if (decision.Function == FunctionId.None)
        {
            return string.Empty;
        }

        FunctionText function = FunctionTexts.Of(decision.Function, decision.Finding);
        if (decision.Reason is RefusalReason.NotBypassable or RefusalReason.BypassTime or RefusalReason.NotBypassed or RefusalReason.ValuesForced or RefusalReason.NothingToLearn || AboutAlarm(decision.Reason))
        {
            return decision.Reason == RefusalReason.ValuesForced ? string.Empty : $": {function.Code}, {function.Title}"; // The figures of the function are not why.
        }

        if (double.IsNaN(decision.Value))
        {
            // Said plainly, because with a lost link the first function in the order is named, which is seldom COMM.
            return $": {function.Code} cannot be judged, its signal is not good; look at the links, COMM and SENS in: edgeguard status";
        }

        string act = kind is RequestKind.None or RequestKind.Reset ? "a reset" : "a " + kind.ToString().ToLowerInvariant();
        string needs = decision.Reason == RefusalReason.CauseStillPresent ? $"; {act} needs {function.ResetNeeds}" : string.Empty;
        return $": {function.Code}, {function.Title}{Judged(decision, function)}{needs}";
    }

    private static bool AboutAlarm(RefusalReason reason) => reason
        is RefusalReason.AlarmOfTrip or RefusalReason.ShelvingTime or RefusalReason.AlarmState or RefusalReason.OutOfServiceOff or RefusalReason.NoSuchAlarm;

    // A function without a unit judges a state: its bare numbers would say nothing to a person.
    private static string Judged(in GuardEvent decision, FunctionText function) => function.Unit.Length == 0
        ? string.Empty
        : $": {Quantity.Format(decision.Value, function.Unit)}, limit {Quantity.Format(decision.Limit, function.Unit)}";
}
