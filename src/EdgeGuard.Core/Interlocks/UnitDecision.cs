using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>Everything decided for one unit in one scan. Allocated once, overwritten each scan.</summary>
public sealed class UnitDecision
{
    /// <summary>State after this scan.</summary>
    public UnitState State { get; internal set; }

    /// <summary>First cause of the latched trip; None when not tripped.</summary>
    public FunctionId FirstOut { get; internal set; }

    /// <summary>True while power is permitted: granted, durable and every function evaluated in this scan.</summary>
    public bool Permit { get; internal set; }

    /// <summary>A permit is decided and waits for its event to become durable.</summary>
    public bool PendingDurable { get; internal set; }

    /// <summary>Setpoint led by the guard, °C.</summary>
    public double LedSetpointC { get; internal set; }

    /// <summary>The ramp is held for the shared supply.</summary>
    public bool RampHeld { get; internal set; }

    /// <summary>Place among the units that wait for the shared supply, in the order of their start: 1 goes next; 0: it does not wait.</summary>
    public int SupplyPlace { get; internal set; }

    /// <summary>Measured power is below the residual limit for long enough.</summary>
    public bool PowerProvedOff { get; internal set; }

    /// <summary>Slope of the element temperature over the delay of NORS, K/min, judged by NORS and HEAT; NaN until enough samples.</summary>
    public double ElementSlopeKPerMin { get; internal set; }

    /// <summary>Slope of the signal of COOL, 60 s mean by default, K/min; NaN until enough samples.</summary>
    public double CoolSlopeKPerMin { get; internal set; }

    /// <summary>Functions evaluated in this scan; always all of them, asserted.</summary>
    public int FunctionsEvaluated { get; internal set; }

    /// <summary>Trips of this unit, over restarts where they were kept.</summary>
    public int TripCount { get; internal set; }

    /// <summary>Function of the latest trip, of an earlier run too where it was kept, power-on excepted; None when there was none.</summary>
    public FunctionId LastTrip { get; internal set; }

    /// <summary>What a person found the latest trip to have been.</summary>
    public TripClass LastTripClass { get; internal set; }

    /// <summary>Resets came more often than the site allows.</summary>
    public bool ResetsTooOften { get; internal set; }

    /// <summary>Loss of the energy balance as learnt so far; zero where BALA is not configured.</summary>
    public Thermal.LearntLoss Loss { get; internal set; }

    /// <summary>Trend of the earth leakage.</summary>
    public LeakFigures Leakage { get; internal set; }

    /// <summary>Trend of the insulation, as conductance.</summary>
    public LeakFigures Insulation { get; internal set; }

    /// <summary>Noise of the sensors as learnt.</summary>
    public LearntFloors Floors { get; internal set; }

    /// <summary>Counters of each function, indexed by <see cref="FunctionId"/>.</summary>
    public FunctionCounts[] Counts { get; } = new FunctionCounts[FunctionIds.Count];

    /// <summary>Verdict of each function, indexed by <see cref="FunctionId"/>.</summary>
    public FunctionStatus[] Functions { get; } = new FunctionStatus[FunctionIds.Count];

    /// <summary>Alarms, indexed by <see cref="FunctionId"/>; None is the alarm of the trip. Nothing that decides reads them.</summary>
    public AlarmPointStatus[] Alarms { get; } = new AlarmPointStatus[FunctionIds.Count];

    /// <summary>Wanted writes, indexed by <see cref="CommandRole"/>.</summary>
    public CommandDecision[] Commands { get; } = new CommandDecision[CommandRoles.Count];

    /// <summary>The signals the decision rests on: decoded, or forced by a person (<see cref="StatusCode.GoodLocalOverride"/>).</summary>
    public ScanImage Image { get; } = new();

    /// <summary>The forced signals with their real values; the places without one are not active.</summary>
    public ForcedSignal[] Forced { get; } = new ForcedSignal[ForceTable.SignalsMax];

    /// <summary>What the device says of a signal, forced or not.</summary>
    /// <param name="role">The signal.</param>
    public SignalValue RealOf(SignalRole role)
    {
        foreach (ref ForcedSignal forced in Forced.AsSpan())
        {
            if (forced.Active && forced.Role == role)
            {
                return forced.Real;
            }
        }

        // A forced value whose real one is not here is no reading of anything.
        return Image[role].Status == StatusCode.GoodLocalOverride ? default : Image[role];
    }
}
