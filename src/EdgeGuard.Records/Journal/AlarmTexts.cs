using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Records.Journal;

/// <summary>Names of the alarms of a unit and words for what the design suppresses.</summary>
public static class AlarmTexts
{
    /// <summary>Name of the alarm of the trip itself.</summary>
    public const string Trip = "TRIP";

    /// <summary>Name of an alarm: the code of its function, or TRIP.</summary>
    /// <param name="alarm">The function; None is the alarm of the trip.</param>
    public static string CodeOf(FunctionId alarm) => alarm == AlarmIds.Trip ? Trip : FunctionTexts.Of(alarm).Code;

    /// <summary>The alarm of a name, in any letters.</summary>
    /// <param name="code">The name.</param>
    /// <param name="alarm">The function; None is the alarm of the trip.</param>
    /// <returns>False when there is no such alarm.</returns>
    public static bool TryFind(string? code, out FunctionId alarm)
    {
        for (int i = 0; i < FunctionIds.Count; i++)
        {
            alarm = (FunctionId)i;
            if (AlarmIds.Exists(alarm) && string.Equals(CodeOf(alarm), code, StringComparison.OrdinalIgnoreCase))
            {
                return true;
            }
        }

        alarm = AlarmIds.Trip;
        return false;
    }

    /// <summary>While what an alarm is suppressed; empty for None.</summary>
    /// <param name="suppression">The rule.</param>
    public static string While(AlarmSuppression suppression) => suppression switch
    {
        AlarmSuppression.None => string.Empty,
        AlarmSuppression.LinkLost => "all that it judges is lost with the link",
        AlarmSuppression.ForcedByTrip => "the enforced unit is tripped",
        _ => "rule " + ((int)suppression).ToString(System.Globalization.CultureInfo.InvariantCulture),
    };

    /// <summary>Why an alarm is suppressed, with the alarm that tells instead; empty for None.</summary>
    /// <param name="suppression">The rule.</param>
    public static string Why(AlarmSuppression suppression) => suppression switch
    {
        AlarmSuppression.None => string.Empty,
        AlarmSuppression.LinkLost => "nothing of what it judges is read any more, COMM tells so",
        AlarmSuppression.ForcedByTrip => "the removal of power cools the heater, TRIP tells so",
        _ => "rule " + ((int)suppression).ToString(System.Globalization.CultureInfo.InvariantCulture),
    };
}
