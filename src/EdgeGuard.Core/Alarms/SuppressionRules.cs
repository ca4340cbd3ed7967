using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Alarms;

/// <summary>
/// Suppression by design: which alarm says nothing of its own while what. A rule holds only while its cause is told by an
/// alarm that nobody has hidden, never for the first cause of a trip, and only where nothing independent can be behind
/// the alarm: one value that is still read, or bad for another reason than the link, and the alarm is heard. A unit
/// that only observes removes no power, so nothing is forced by its trips.
/// </summary>
public static class SuppressionRules
{
    private static readonly SignalRole[] None = [];
    private static readonly SignalRole[] Chain = [SignalRole.ChainHealthy];
    private static readonly SignalRole[] Flows = [SignalRole.GasFlow, SignalRole.GasFlow2, SignalRole.GasFlow3];
    private static readonly SignalRole[] Currents = [SignalRole.CurrentL1, SignalRole.CurrentL2, SignalRole.CurrentL3];
    private static readonly SignalRole[] Leaks = [SignalRole.EarthLeakage, SignalRole.Insulation];

    private static readonly SignalRole[] Sensors =
    [
        SignalRole.ElementTemperature, SignalRole.OutletTemperature, SignalRole.GasFlow, SignalRole.Power,
        SignalRole.ElementTemperature2, SignalRole.ElementTemperature3, SignalRole.OutletTemperature2, SignalRole.OutletTemperature3,
        SignalRole.GasFlow2, SignalRole.GasFlow3,
    ];

    // All that CMDV looks at, the verdicts on settings excepted: where they are unknown it does not say "not readable".
    private static readonly SignalRole[] Cabinet =
    [
        SignalRole.KeySupervised, SignalRole.WatchdogAlive, SignalRole.WatchdogTime, SignalRole.Heartbeat, SignalRole.Relay, SignalRole.Enable,
        SignalRole.ManualMode, SignalRole.ManualOutput, SignalRole.RemoteSetpoint, SignalRole.BlowerDemand, SignalRole.OutputLimit,
    ];

    /// <summary>The rule of an alarm; None where it is never suppressed.</summary>
    /// <param name="alarm">The function; None is the alarm of the trip.</param>
    public static AlarmSuppression Of(FunctionId alarm) => alarm switch
    {
        FunctionId.Hard or FunctionId.Flow or FunctionId.Sens or FunctionId.Cmdv or FunctionId.Phas or FunctionId.Leak => AlarmSuppression.LinkLost,
        FunctionId.Cool => AlarmSuppression.ForcedByTrip,
        _ => AlarmSuppression.None,
    };

    /// <summary>True when all that the function judges has gone with the link, and nothing else can be what it found.</summary>
    internal static bool IsLostWithLink(FunctionId alarm, in FunctionStatus status, UnitMemory unit, ScanImage image)
    {
        SignalRole[] roles = RolesOf(alarm);
        bool sensors = alarm == FunctionId.Sens;
        bool finding = alarm switch
        {
            FunctionId.Sens => status.Finding is Finding.None or Finding.RedundantSensorLost,
            FunctionId.Cmdv => status.Finding == Finding.NotReadable,
            _ => status.Finding != Finding.Forced, // What a forced value is judged by is no consequence of the link.
        };
        bool any = false;
        for (int i = 0; i < roles.Length; i++)
        {
            if (!unit.Fitted[(int)roles[i]] && !(sensors && i < 4))
            {
                continue; // The first four sensors of SENS have to be there.
            }

            ref SignalValue value = ref image[roles[i]];
            bool lost = WentWithLink(value);
            any |= lost;
            if (!lost && !(sensors && value.IsGood))
            {
                return false;
            }
        }

        return any && finding;
    }

    private static bool WentWithLink(in SignalValue value) => value.Known
        && value.Status is StatusCode.UncertainNoCommunicationLastUsableValue or StatusCode.BadNoCommunication
            or StatusCode.BadCommunicationError or StatusCode.BadWaitingForInitialData;

    private static SignalRole[] RolesOf(FunctionId alarm) => alarm switch
    {
        FunctionId.Hard => Chain,
        FunctionId.Flow => Flows,
        FunctionId.Sens => Sensors,
        FunctionId.Cmdv => Cabinet,
        FunctionId.Phas => Currents,
        FunctionId.Leak => Leaks,
        _ => None,
    };
}
