using EdgeGuard.VirtualPlant.Faults;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Electrical;

/// <summary>
/// Supply, controller legs and element legs of one cabinet. Over a firing cycle the controller conducts for the share
/// that is its output, all of its legs together; in the rest of the cycle only the legs conduct that cannot be switched:
/// the third line of a two-leg controller, and shorted thyristors. The element sees the mean power of the two states,
/// the meter of the cabinet shows true RMS over whole firing cycles.
/// </summary>
public sealed class PowerStage
{
    private readonly PlantProfile _profile;

    private readonly CycleMeter _meter;

    private readonly double _legSiemens;

    /// <summary>The stage of a cabinet.</summary>
    public PowerStage(PlantProfile profile)
    {
        ArgumentNullException.ThrowIfNull(profile);
        _profile = profile;
        _meter = new CycleMeter(profile.FiringCycleMs);
        // Star: P = U²/R with U line to line and R one leg; delta: P = 3 U²/R.
        double watts = profile.RatedKw * 1000.0;
        double volts = profile.SupplyV;
        _legSiemens = watts / (volts * volts) / (profile.Connection == LoadConnection.Delta ? 3.0 : 1.0);
    }

    /// <summary>Mean power of the last step, kW.</summary>
    public double PowerKw { get; private set; }

    /// <summary>Line currents in the registers, A.</summary>
    public ThreePhase CurrentsA => _meter.CurrentsA;

    /// <summary>Voltages from line to neutral in the registers, V.</summary>
    public ThreePhase VoltagesV => _meter.VoltagesV;

    /// <summary>Earth leakage current in the registers, mA.</summary>
    public double LeakageMa => _meter.LeakageMa;

    /// <summary>Advances by one step.</summary>
    /// <param name="share">Share of the firing cycle in which the controller conducts, 0 to 1; 0 while firing is blocked.</param>
    /// <param name="contactorClosed">Main contacts.</param>
    /// <param name="faults">Active faults.</param>
    /// <param name="stepMs">Length of the step, ms.</param>
    public void Step(double share, bool contactorClosed, FaultBook faults, int stepMs)
    {
        ArgumentNullException.ThrowIfNull(faults);
        double factor = faults.ArgumentOr(FaultKind.SupplyHigh, 1.0) * faults.ArgumentOr(FaultKind.SupplyLow, 1.0);
        double phaseV = _profile.SupplyV * factor / Math.Sqrt(3.0);
        Phases supplied = Phases.All & ~(faults.Has(FaultKind.SupplyPhaseLost) ? Leg(faults, FaultKind.SupplyPhaseLost) : Phases.None);
        ThreePhase legs = Legs(faults);
        Phases standing = contactorClosed ? Standing(faults) : Phases.None;
        CircuitFlows on = HeaterCircuit.Solve(_profile.Connection, phaseV, legs, supplied, contactorClosed ? Phases.All : Phases.None);
        CircuitFlows off = HeaterCircuit.Solve(_profile.Connection, phaseV, legs, supplied, standing);
        PowerKw = (share * on.PowerKw) + ((1.0 - share) * off.PowerKw);
        double leakMa = LeakageMaOf(faults) * factor;
        double leakShare = !contactorClosed ? 0.0 : standing == Phases.None ? share : 1.0;
        _meter.Add(
            on.CurrentSquaredA2.Times(share).Plus(off.CurrentSquaredA2.Times(1.0 - share)),
            on.VoltageSquaredV2.Times(share).Plus(off.VoltageSquaredV2.Times(1.0 - share)),
            leakMa * leakMa * leakShare,
            stepMs);
    }

    private ThreePhase Legs(FaultBook faults)
    {
        var legs = ThreePhase.All(_legSiemens);
        if (faults.Has(FaultKind.LegHigh))
        {
            legs = legs.Scaled(Phases.L3, 1.0 / faults.ArgumentOr(FaultKind.LegHigh, 1.1));
        }

        return faults.Has(FaultKind.LegOpen) ? legs.Scaled(Leg(faults, FaultKind.LegOpen), 0.0) : legs;
    }

    /// <summary>Lines that conduct whatever the controller wants.</summary>
    private Phases Standing(FaultBook faults)
    {
        Phases uncontrolled = _profile.ControlledLegs == 2 ? Phases.L3 : Phases.None;
        if (!faults.Has(FaultKind.LegShorted))
        {
            return uncontrolled;
        }

        // Without an argument as many as leave half of the power: two of a three-leg controller, one of a two-leg one.
        int shorted = (int)faults.ArgumentOr(FaultKind.LegShorted, 0.0);
        shorted = shorted == 0 ? _profile.ControlledLegs - 1 : shorted;
        return uncontrolled | shorted switch { 1 => Phases.L1, 2 => Phases.L1 | Phases.L2, _ => Phases.All };
    }

    private double LeakageMaOf(FaultBook faults) =>
        (_profile.LeakageMaPerKw * _profile.RatedKw) + faults.ArgumentOr(FaultKind.EarthLeakage, 0.0);

    private static Phases Leg(FaultBook faults, FaultKind kind) => (int)faults.ArgumentOr(kind, 3.0) switch
    {
        1 => Phases.L1,
        2 => Phases.L2,
        _ => Phases.L3,
    };
}
