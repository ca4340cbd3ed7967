using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Service.Requests;

/// <summary>The decision of the core on a request as a sentence that says which condition is missing and what helps.</summary>
public static class RefusalText
{
    /// <summary>The sentence for an accepted or refused request.</summary>
    public static string Of(in GuardEvent decision) =>
        decision.Id == EventId.RequestAccepted ? "accepted" : "refused: " + Condition(decision.Reason) + Figures(decision);

    private static string Condition(RefusalReason reason) => reason switch
    {
        RefusalReason.WrongState => "the unit's present state knows no such request (a reset needs a tripped unit, a start one that is ready, standing by or after-cooling, a cool one with a permit or in pre-flow); look at: edgeguard status",
        RefusalReason.CauseStillPresent => "the cause is still present",
        RefusalReason.NotReset => "the trip has not been reset; reset it first, then start",
        RefusalReason.JournalNotHealthy => "the journal cannot be written, or lost events in this run, so no new permit is given; look at the disk of the data folder, and after lost events restart the guard",
        RefusalReason.KeyOnLocal => "the key switch of the cabinet is on LOCAL; turn it to SUPERVISED",
        RefusalReason.ObserveOnly => "the unit only observes; its mode in the site file is \"observe\"",
        RefusalReason.RemoteResetOff => "remote reset is off for this unit; reset at the machine",
        RefusalReason.PowerNotProvedOff => "power is not proved off yet",
        RefusalReason.FlowZeroNotSeen => "the flow signal has not been seen below its limit with the blower stopped since the guard started; stop the blower and wait",
        RefusalReason.NotInStartPosition => "the cabinet is not in its start position: output 0 %, automatic, remote, setpoint near the actual value",
        _ => "reason number " + (int)reason,
    };

    private static string Figures(in GuardEvent decision)
    {
        if (decision.Function == FunctionId.None)
        {
            return string.Empty;
        }

        FunctionText function = FunctionTexts.Of(decision.Function);
        if (double.IsNaN(decision.Value))
        {
            // Said plainly, because with a lost link the first function in the order is named, which is seldom COMM.
            return $": {function.Code} cannot be judged, its signal is not good; look at the links, COMM and SENS in: edgeguard status";
        }

        return $": {function.Code}, {function.Title}: {Quantity.Format(decision.Value, function.Unit)}, limit {Quantity.Format(decision.Limit, function.Unit)}; a reset needs {function.ResetNeeds}";
    }
}
