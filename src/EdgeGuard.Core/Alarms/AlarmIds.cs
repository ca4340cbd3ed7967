using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Core.Alarms;

/// <summary>
/// Facts about the alarms of a unit. Each function has one, numbered as the function; number 0, where no function is,
/// is the alarm of the trip itself, which names its first cause.
/// </summary>
public static class AlarmIds
{
    /// <summary>The alarm of the trip.</summary>
    public const FunctionId Trip = FunctionId.None;

    /// <summary>True for every alarm there is. Power-on and a person's stop are causes, no alarms.</summary>
    /// <param name="alarm">The function; None is the alarm of the trip.</param>
    public static bool Exists(FunctionId alarm) => (int)alarm < FunctionIds.Count && alarm is not (FunctionId.Start or FunctionId.Stop);

    /// <summary>True for the alarm of the trip and of each function that can remove power or shut down.</summary>
    /// <param name="alarm">The function; None is the alarm of the trip.</param>
    public static bool IsOfTrip(FunctionId alarm) => alarm == Trip || FunctionIds.ReactionOf(alarm) != Reaction.Alarm;

    /// <summary>
    /// Alarms of trips that a site may let be hidden. Never: power that could not be removed (RESD), the guard's own
    /// integrity (SELF) and the record in which the hiding itself stands (JRNL).
    /// </summary>
    /// <param name="alarm">The function; None is the alarm of the trip.</param>
    public static bool MayBeMarked(FunctionId alarm) =>
        Exists(alarm) && IsOfTrip(alarm) && alarm is not (FunctionId.Resd or FunctionId.Self or FunctionId.Jrnl);

    /// <summary>Priority: the trip high, what can trip medium, the rest low.</summary>
    /// <param name="alarm">The function; None is the alarm of the trip.</param>
    public static AlarmPriority PriorityOf(FunctionId alarm) =>
        alarm == Trip ? AlarmPriority.High : IsOfTrip(alarm) ? AlarmPriority.Medium : AlarmPriority.Low;

    /// <summary>True when a verdict is the condition of its function's alarm.</summary>
    /// <param name="function">The function; not None.</param>
    /// <param name="state">Its verdict.</param>
    public static bool IsRaised(FunctionId function, FunctionState state) =>
        Exists(function) && state is FunctionState.Alarm or FunctionState.Demand;
}
