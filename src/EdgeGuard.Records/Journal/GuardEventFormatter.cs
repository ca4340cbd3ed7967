using System.Globalization;
using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Records.Journal;

/// <summary>
/// Turns a decision of the core into an entry: numbers get their units, states their names, and a trip gets the plain
/// sentence a person needs at three in the morning. Runs on the journal thread, so it may allocate.
/// </summary>
public sealed class GuardEventFormatter
{
    // Detail of the events of a force: role in the low byte, minutes or demands above it.
    private const int RoleMask = 0xFF;
    private const int CountShift = 8;

    private readonly string[] _unitNames;
    private readonly int _scanMs;

    /// <summary>Takes the names of a site.</summary>
    /// <param name="unitNames">Unit names in the order of the site table.</param>
    /// <param name="scanMs">Scan period, ms; turns a scan number into a time.</param>
    public GuardEventFormatter(IReadOnlyList<string> unitNames, int scanMs)
    {
        ArgumentNullException.ThrowIfNull(unitNames);
        _unitNames = [.. unitNames];
        _scanMs = scanMs;
    }

    /// <summary>Formats one event.</summary>
    /// <param name="e">The event.</param>
    public JournalEntry Format(in GuardEvent e)
    {
        FunctionText function = FunctionTexts.Of(e.Function, e.Finding);
        (string? value, string? limit) = Figures(e, function);
        return new JournalEntry
        {
            Id = (int)e.Id,
            UtcUnixMs = e.UtcUnixMs,
            Scan = e.Scan,
            Sequence = e.Sequence,
            Unit = UnitName(e.Unit),
            Function = e.Function == FunctionId.None ? null : function.Code,
            Value = value,
            Limit = limit,
            Since = Since(e),
            Detail = CarriesSince(e.Id) || e.Detail == 0 ? null : e.Detail,
            Reason = e.Reason == RefusalReason.None ? null : RefusalText(e.Reason),
            Text = Sentence(e, function, value, limit),
        };
    }

    /// <summary>What a refusal means, in words.</summary>
    /// <param name="reason">The reason.</param>
    public static string RefusalText(RefusalReason reason) => reason switch
    {
        RefusalReason.None => "not refused",
        RefusalReason.WrongState => "the unit is not in a state that takes this request",
        RefusalReason.CauseStillPresent => "the cause is still present",
        RefusalReason.NotReset => "the trip has not been reset",
        RefusalReason.JournalNotHealthy => "the journal cannot be written, or lost events since the guard was started, so no permit is given",
        RefusalReason.KeyOnLocal => "the key of the cabinet is on LOCAL",
        RefusalReason.ObserveOnly => "the unit only observes",
        RefusalReason.RemoteResetOff => "remote reset is off in the site file; reset at the cabinet or from this machine",
        RefusalReason.PowerNotProvedOff => "power is not proved off",
        RefusalReason.FlowZeroNotSeen => "the flow signal has not been seen below its limit with the blower stopped since the guard started",
        RefusalReason.NotInStartPosition => "the controller is not in its start position (output 0 %, automatic, remote)",
        RefusalReason.SettingsNotAsCommissioned => "settings of a device differ from what was commissioned, or are not known",
        RefusalReason.NotBypassable => "the site does not let this function be bypassed",
        RefusalReason.BypassTime => "the time of the bypass is longer than the site allows",
        RefusalReason.NotBypassed => "the function is not bypassed",
        RefusalReason.NotForcible => "the site does not let this signal be forced",
        RefusalReason.ForceRange => "the value is outside what the site allows for this signal",
        RefusalReason.ForceTime => "the time of the force is longer than the site allows",
        RefusalReason.TooManyForced => "as many signals are forced as may be at the same time",
        RefusalReason.NotForced => "the signal is not forced",
        RefusalReason.ValuesForced => "a signal is forced, and the site does not let the unit start with one",
        RefusalReason.NothingToLearn => "the function learns nothing, or is not configured",
        RefusalReason.NoTrip => "no trip of the unit is known",
        RefusalReason.AlarmOfTrip => "the alarm is that of a trip and the site does not let it be hidden",
        RefusalReason.ShelvingTime => "the time on the shelf is longer than the site allows",
        RefusalReason.AlarmState => "the alarm is not in a state that takes this request",
        RefusalReason.OutOfServiceOff => "the site does not let alarms be taken out of service",
        RefusalReason.NoSuchAlarm => "there is no such alarm",
        _ => "reason " + ((int)reason).ToString(CultureInfo.InvariantCulture),
    };

    // Thousandths would show nothing of a loss in kW/K, nor of the noise of a good sensor in kelvin.
    private static string Learnt(in GuardEvent e) => e.Function == FunctionId.Sens
        ? Quantity.Format(e.Value * 1000, e.Detail == (long)SignalRole.GasFlow ? "g/h" : "mK")
        : Quantity.Format(e.Value * 1000, "W/K");

    private static bool CarriesSince(EventId id) => id is EventId.Trip or EventId.Consequence or EventId.WouldTrip or EventId.BypassedDemand or EventId.ForcedDemand;

    private static (string? Value, string? Limit) Figures(in GuardEvent e, FunctionText function) => e.Id switch
    {
        EventId.Trip or EventId.Consequence or EventId.AlarmActive or EventId.AlarmGone or EventId.WouldTrip or EventId.BypassedDemand or EventId.ForcedDemand => Judged(e, function),
        EventId.StateChanged => (StateName(e.Value), StateName(e.Limit)),
        EventId.FlowProved or EventId.FlowZeroSeen => (Quantity.Format(e.Value, "kg/h"), Quantity.Format(e.Limit, "kg/h")),
        EventId.PermitGranted or EventId.RampEnvelope => (Quantity.Format(e.Value, "°C"), Quantity.Format(e.Limit, "°C")),
        EventId.PowerProvedOff or EventId.PowerNotRemoved or EventId.RampHeld or EventId.RampReleased => (Quantity.Format(e.Value, "kW"), Quantity.Format(e.Limit, "kW")),
        EventId.FoundOutputs => (Quantity.Format(e.Value, "%"), Quantity.Format(e.Limit, "kW")),
        EventId.ReadBackDiffers => (Quantity.Format(e.Value, string.Empty), Quantity.Format(e.Limit, string.Empty)),
        EventId.KeyChanged => (e.Value > 0 ? "SUPERVISED" : "LOCAL", null),
        EventId.BypassBegun or EventId.AlarmShelved => (Quantity.Format(e.Value, "min"), Quantity.Format(e.Limit, "min")),
        EventId.ForceBegun or EventId.ForceEnded or EventId.ForceExpired or EventId.ForceEndedByTrip => Forced(e),
        EventId.Learnt => (Learnt(e), null),
        EventId.RepeatedResets => (Quantity.Format(e.Value, string.Empty), Quantity.Format(e.Limit, string.Empty)),
        _ => (null, null),
    };

    private static (string? Value, string? Limit) Forced(in GuardEvent e)
    {
        string unit = SignalUnits.Of((SignalRole)(byte)(e.Detail & RoleMask));
        return (Quantity.Format(e.Value, unit), double.IsNaN(e.Limit) ? null : Quantity.Format(e.Limit, unit));
    }

    private static string SignalName(long detail) =>
        (detail & RoleMask) < SignalRoles.Count ? ((SignalRole)(byte)(detail & RoleMask)).ToString() : $"signal {(detail & RoleMask).ToString(CultureInfo.InvariantCulture)}";

    // SENS judges no figure but names the first role lost; a function without a unit judges a state.
    private static (string? Value, string? Limit) Judged(in GuardEvent e, FunctionText function)
    {
        if (e.Function == FunctionId.Sens)
        {
            return (e.Value is >= 0 and < SignalRoles.Count ? ((SignalRole)(byte)e.Value).ToString() : null, null);
        }

        return function.Unit.Length == 0 ? (null, null) : (Quantity.Format(e.Value, function.Unit), Quantity.Format(e.Limit, function.Unit));
    }

    private string? Sentence(in GuardEvent e, FunctionText function, string? value, string? limit) => e.Id switch
    {
        EventId.Trip => $"{(e.Function == FunctionId.Start ? "Tripped" : "Power removed")} by {function.Code}: {Clause(e, function, value, limit)}. Look at: {function.LookAt}. A reset needs: {function.ResetNeeds}.",
        EventId.WouldTrip => $"Observed only, nothing was written; power would have been removed by {function.Code}: {Clause(e, function, value, limit)}. Look at: {function.LookAt}.",
        EventId.Consequence => $"Further demand while tripped, {function.Code}: {Clause(e, function, value, limit)}.",
        EventId.CauseGone => $"Nothing stands against a reset any more; the trip by {function.Code} stays latched until a person resets it.",
        EventId.ControlledShutdown => $"Controlled shutdown by {function.Code} ({function.Title}): powered cool-down at the cap, then removal. Look at: {function.LookAt}.",
        EventId.AlarmActive => $"Alarm {function.Code}: {Clause(e, function, value, limit)}. Look at: {function.LookAt}.",
        EventId.StateChanged => $"{value} to {limit}.",
        EventId.PermitGranted => $"Permit decided; it takes effect when this line is durable. Setpoint led from {value} to {limit}.",
        EventId.PermitWithdrawn => $"Permit withdrawn by {function.Code} ({function.Title}).",
        EventId.RampEnvelope => $"Setpoint led from {value} to {limit} at {Quantity.FormatMilli(e.Detail, "K/min")}.",
        EventId.PowerNotRemoved => $"Power was removed and {value} is still measured (limit {limit}). Lock out at the main switch.",
        EventId.RampHeld => $"Ramp held: the supply carries {value} of {limit}.",
        EventId.RequestAccepted => $"Request {e.Detail} accepted.",
        EventId.RequestRefused => $"Request {e.Detail} refused: {RefusalText(e.Reason)}{(e.Function == FunctionId.None ? string.Empty : $" ({function.Code}: {function.Title})")}.",
        EventId.FoundOutputs => $"Found at the cabinet at start: output {value}, power {limit}.",
        EventId.WatchdogDropped => "The cabinet says that its watchdog has dropped although the permit token is renewed: it has removed the power.",
        EventId.BypassBegun => $"{function.Code} ({function.Title}) is bypassed for {value} from when this line is durable; it goes on being judged and its demands are counted.",
        EventId.BypassEnded => $"{function.Code} is in force again: the bypass was ended by request after {Counted.Of(e.Detail, "demand")}.",
        EventId.BypassExpired => $"{function.Code} is in force again: the bypass expired after {Counted.Of(e.Detail, "demand")}.",
        EventId.BypassedDemand => $"Bypassed, so nothing was removed, {function.Code}: {Clause(e, function, value, limit)}. Look at: {function.LookAt}.",
        EventId.ForceBegun => $"{SignalName(e.Detail)} is forced to {value} for {e.Detail >> CountShift} min from when this line is durable; {RealClause(limit)}. What the real value demands is counted and trips nothing.",
        EventId.ForceEnded => $"{SignalName(e.Detail)} was forced to {value} and is judged as read again: ended by request after {Counted.Of(e.Detail >> CountShift, "demand")}; {RealClause(limit)}.",
        EventId.ForceExpired => $"{SignalName(e.Detail)} was forced to {value} and is judged as read again: the force expired after {Counted.Of(e.Detail >> CountShift, "demand")}; {RealClause(limit)}.",
        EventId.ForceEndedByTrip => $"{SignalName(e.Detail)} was forced to {value} and is judged as read again: the force ended with the trip after {Counted.Of(e.Detail >> CountShift, "demand")}; {RealClause(limit)}.",
        EventId.ForcedDemand => $"Forced, so nothing was removed, {function.Code} with the real value: {Clause(e, function, value, limit)}. Look at: {function.LookAt}.",
        EventId.TripClassified => $"Trip {(long)e.Value} by {function.Code} was {(e.Detail == 2 ? "spurious" : "genuine")} in the finding of the person who asked.",
        EventId.LearningBegun => $"{function.Code} ({function.Title}) learns anew; it judges nothing by what it learnt before.",
        EventId.Learnt => e.Function == FunctionId.Sens ? $"{function.Code} has learnt the noise of {(SignalRole)(byte)e.Detail}: a reading scatters by {value}." : $"{function.Code} has learnt: loss {value}.",
        EventId.NotLearnable => $"{function.Code}: the resolution of {(SignalRole)(byte)e.Detail} is too coarse for its noise; it is not judged by it.",
        EventId.AlarmShelved => $"The alarm of {AlarmTexts.CodeOf(e.Function)} is shelved for {value}; what it tells of goes on being judged.",
        EventId.AlarmUnshelved => $"The alarm of {AlarmTexts.CodeOf(e.Function)} was taken from the shelf.",
        EventId.AlarmShelvingExpired => $"The time of the alarm of {AlarmTexts.CodeOf(e.Function)} on the shelf is over.",
        EventId.AlarmRemovedFromService => $"The alarm of {AlarmTexts.CodeOf(e.Function)} is out of service until a person returns it or the guard is started again; what it tells of goes on being judged.",
        EventId.AlarmReturnedToService => $"The alarm of {AlarmTexts.CodeOf(e.Function)} is in service again.",
        EventId.AlarmSuppressed => $"The alarm of {AlarmTexts.CodeOf(e.Function)} is suppressed by design: {AlarmTexts.Why((AlarmSuppression)(byte)e.Detail)}.",
        EventId.AlarmSuppressionEnded => $"The alarm of {AlarmTexts.CodeOf(e.Function)} is no longer suppressed, or its condition has gone.",
        EventId.RepeatedResets => $"More than {limit} resets within an hour; latest trip by {function.Code}. Find the cause before the next reset.",
        EventId.ReadBackDiffers => $"{RoleName(e.Detail)}: read back {value}, written {limit}.",
        _ => null,
    };

    private static string RealClause(string? real) => real is null ? "the real value is not good" : "the real value is " + real;

    private string Clause(in GuardEvent e, FunctionText function, string? value, string? limit)
    {
        string figures = value is null ? string.Empty : limit is null ? $", {value}" : $", {value}, limit {limit}";
        string since = Since(e) is { } time ? ", since " + time : string.Empty;
        string led = e.Function == FunctionId.Cool && e.Id == EventId.AlarmActive ? (e.Detail == 1 ? ", while led" : ", forced by a trip") : string.Empty;
        return function.Title + figures + since + led;
    }

    // For the events that have a duration, the core's detail is the scan since when; the time follows from the period.
    private string? Since(in GuardEvent e)
    {
        if (!CarriesSince(e.Id) || e.Detail < 0 || e.Detail > e.Scan)
        {
            return null;
        }

        long utc = e.UtcUnixMs - ((e.Scan - e.Detail) * _scanMs);
        return string.Create(CultureInfo.InvariantCulture, $"{JournalLineCodec.FormatUtc(utc)} (scan {e.Detail})");
    }

    private string? UnitName(int unit) =>
        unit < 0 ? null : unit < _unitNames.Length ? _unitNames[unit] : string.Create(CultureInfo.InvariantCulture, $"unit {unit} (not in the site)");

    private static string StateName(double number) =>
        number is >= 0 and <= byte.MaxValue && Enum.IsDefined((UnitState)(byte)number) ? ((UnitState)(byte)number).ToString() : Quantity.Format(number, string.Empty);

    private static string RoleName(long role) =>
        role is >= 0 and < CommandRoles.Count ? ((CommandRole)role).ToString() : "command " + role.ToString(CultureInfo.InvariantCulture);
}
