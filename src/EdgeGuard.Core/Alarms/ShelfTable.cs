using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Core.Alarms;

/// <summary>
/// What people may hide of the alarms of a unit, and for how long. By default what only alarms may be shelved, the alarm
/// of a trip may not, and nothing may be taken out of service.
/// </summary>
public sealed record ShelfTable
{
    /// <summary>Longest time on the shelf, minutes; 0: nothing may be shelved.</summary>
    public int MaxMinutes { get; init; } = 480;

    /// <summary>Alarms may be taken out of service, without a limit in time.</summary>
    public bool OutOfService { get; init; }

    /// <summary>
    /// Alarms of trips that may be hidden all the same; None is the alarm of the trip itself. One for which
    /// <see cref="AlarmIds.MayBeMarked"/> is false has no effect here.
    /// </summary>
    public IReadOnlyList<FunctionId> Marked { get; init; } = [];

    /// <summary>True when a person may hide this alarm at all.</summary>
    /// <param name="alarm">The function; None is the alarm of the trip.</param>
    public bool MayHide(FunctionId alarm)
    {
        if (!AlarmIds.Exists(alarm))
        {
            return false;
        }

        bool marked = false;
        for (int i = 0; i < Marked.Count; i++)
        {
            marked |= Marked[i] == alarm;
        }

        return !AlarmIds.IsOfTrip(alarm) || (marked && AlarmIds.MayBeMarked(alarm));
    }
}
