using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Records.Ring;

/// <summary>One unit in one scan, read back from the ring. Allocated once by the reader's owner and filled again and again.</summary>
public sealed class ScanRingRecord
{
    /// <summary>Position in the ring since its start, from 0.</summary>
    public long Ordinal { get; internal set; }

    /// <summary>Scan number.</summary>
    public long Scan { get; internal set; }

    /// <summary>UTC of the scan, ms since 1970-01-01.</summary>
    public long UtcUnixMs { get; internal set; }

    /// <summary>Index of the unit.</summary>
    public int Unit { get; internal set; }

    /// <summary>State after the scan.</summary>
    public UnitState State { get; internal set; }

    /// <summary>First cause of the latched trip.</summary>
    public FunctionId FirstOut { get; internal set; }

    /// <summary>Power is permitted.</summary>
    public bool Permit { get; internal set; }

    /// <summary>A permit waits for its event to become durable.</summary>
    public bool PendingDurable { get; internal set; }

    /// <summary>The ramp is held for the shared supply.</summary>
    public bool RampHeld { get; internal set; }

    /// <summary>Power is proved off.</summary>
    public bool PowerProvedOff { get; internal set; }

    /// <summary>Setpoint led by the guard, °C.</summary>
    public double LedSetpointC { get; internal set; }

    /// <summary>Slope of the element temperature, K/min; NaN until known.</summary>
    public double ElementSlopeKPerMin { get; internal set; }

    /// <summary>Slope of the signal of COOL, K/min; NaN until known.</summary>
    public double CoolSlopeKPerMin { get; internal set; }

    /// <summary>Sum of measured power of all units, kW.</summary>
    public double SitePowerKw { get; internal set; }

    /// <summary>Trips of this unit since start of the guard.</summary>
    public int TripCount { get; internal set; }

    /// <summary>Function of the latest trip of this run, power-on excepted; None when there was none.</summary>
    public FunctionId LastTrip { get; internal set; }

    /// <summary>What a person found the latest trip to have been.</summary>
    public TripClass LastTripClass { get; internal set; }

    /// <summary>Resets came more often than the site allows.</summary>
    public bool ResetsTooOften { get; internal set; }

    /// <summary>Functions evaluated in the scan.</summary>
    public int FunctionsEvaluated { get; internal set; }

    /// <summary>Signals as they were judged, forced ones with their forced value, indexed by <see cref="SignalRole"/>.</summary>
    public SignalValue[] Signals { get; } = new SignalValue[SignalRoles.Count];

    /// <summary>Verdicts, indexed by <see cref="FunctionId"/>.</summary>
    public FunctionStatus[] Functions { get; } = new FunctionStatus[FunctionIds.Count];

    /// <summary>Counters of functions since the start of the guard, indexed by <see cref="FunctionId"/>.</summary>
    public FunctionCounts[] Counts { get; } = new FunctionCounts[FunctionIds.Count];

    /// <summary>The forced signals with their real values; the places without one are not active.</summary>
    public ForcedSignal[] Forced { get; } = new ForcedSignal[ForceTable.SignalsMax];

    /// <summary>Wanted writes, indexed by <see cref="CommandRole"/>.</summary>
    public CommandDecision[] Commands { get; } = new CommandDecision[CommandRoles.Count];
}
