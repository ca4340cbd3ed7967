using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.Guarding.Watching;

namespace EdgeGuard.Service.Guarding;

/// <summary>Copy of one unit's decision.</summary>
internal sealed class UnitSnapshot
{
    public UnitState State;
    public FunctionId FirstOut;
    public bool Permit;
    public bool PendingDurable;
    public bool PowerProvedOff;
    public bool RampHeld;
    public int SupplyPlace;
    public double LedSetpointC;
    public double ElementSlopeKPerMin;
    public double CoolSlopeKPerMin;
    public int TripCount;
    public FunctionId LastTrip;
    public TripClass LastTripClass;
    public bool ResetsTooOften;

    public ScanRingUse Use;

    public double[] BandHours { get; } = new double[UnitWatch.BandsC.Count];

    public AlarmPointStatus[] Alarms { get; } = new AlarmPointStatus[FunctionIds.Count];

    /// <summary>Before the first scan nothing stands.</summary>
    public UnitSnapshot() => Array.Fill(Alarms, new AlarmPointStatus { State = AlarmState.Normal });

    public FunctionStatus[] Functions { get; } = new FunctionStatus[FunctionIds.Count];

    public FunctionCounts[] Counts { get; } = new FunctionCounts[FunctionIds.Count];

    public SignalValue[] Signals { get; } = new SignalValue[SignalRoles.Count];

    public ForcedSignal[] Forced { get; } = new ForcedSignal[ForceTable.SignalsMax];

    public void CopyFrom(UnitDecision decision, UnitWatch watch)
    {
        State = decision.State;
        FirstOut = decision.FirstOut;
        Permit = decision.Permit;
        PendingDurable = decision.PendingDurable;
        PowerProvedOff = decision.PowerProvedOff;
        RampHeld = decision.RampHeld;
        SupplyPlace = decision.SupplyPlace;
        LedSetpointC = decision.LedSetpointC;
        ElementSlopeKPerMin = decision.ElementSlopeKPerMin;
        CoolSlopeKPerMin = decision.CoolSlopeKPerMin;
        TripCount = decision.TripCount;
        LastTrip = decision.LastTrip;
        LastTripClass = decision.LastTripClass;
        ResetsTooOften = decision.ResetsTooOften;
        Use = UseFigures.Of(watch);
        for (int i = 0; i < BandHours.Length; i++)
        {
            BandHours[i] = watch.Stress.BandHours(i);
        }

        decision.Alarms.CopyTo(Alarms, 0);
        decision.Functions.CopyTo(Functions, 0);
        decision.Counts.CopyTo(Counts, 0);
        decision.Forced.CopyTo(Forced, 0);
        for (int role = 0; role < Signals.Length; role++)
        {
            Signals[role] = decision.Image[(SignalRole)role];
        }
    }
}
