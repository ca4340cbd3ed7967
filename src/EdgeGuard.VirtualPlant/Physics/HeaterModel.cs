using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Physics;

/// <summary>
/// Two lumps (element wire and inner lining) and the gas between them. The gas leaves with the effectiveness
/// 1 − exp(−NTU) of a stream along a surface of one temperature, NTU ∝ flow^−0.4 since UA ∝ flow^0.6; its heat is the
/// enthalpy difference. With no flow the element heats at P/(m c) less what it passes to the lining. Explicit steps of
/// at most 5 ms: the fastest time constant of the model is 0.5 s.
/// </summary>
public static class HeaterModel
{
    /// <summary>Longest step the model accepts, ms.</summary>
    public const int StepMaxMs = 5;

    /// <summary>Stefan-Boltzmann constant, kW/(m² K⁴); CODATA 2018.</summary>
    private const double StefanBoltzmannKw = 5.670374419e-11;

    private const double ZeroCelsiusK = 273.15;

    /// <summary>Time the gas stays in the outlet duct at the reference flow, s.</summary>
    private const double DuctHoldS = 0.5;

    /// <summary>Share of the reference flow below which the duct starts to stagnate; fitted to the two-lump reference.</summary>
    private const double StagnantShare = 0.0005;

    /// <summary>Share of full speed below which a coasting blower moves nothing.</summary>
    private const double StandstillShare = 0.0001;

    /// <summary>Advances the heater by one step.</summary>
    /// <param name="profile">The fixed facts.</param>
    /// <param name="state">The state, changed in place.</param>
    /// <param name="powerKw">Electrical power during the step, kW.</param>
    /// <param name="blowerShare">Speed the blower is driven to, 0 to 1.</param>
    /// <param name="flowFactor">What a clogged filter leaves of the flow, 0 to 1.</param>
    /// <param name="stepMs">Length of the step, 1 to 5 ms.</param>
    public static void Step(PlantProfile profile, HeaterState state, double powerKw, double blowerShare, double flowFactor, int stepMs)
    {
        ArgumentNullException.ThrowIfNull(profile);
        ArgumentNullException.ThrowIfNull(state);
        ArgumentOutOfRangeException.ThrowIfLessThan(stepMs, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(stepMs, StepMaxMs);
        double seconds = stepMs / 1000.0;
        StepFlow(profile, state, blowerShare, flowFactor, seconds);
        StepLumps(profile, state, powerKw, seconds);
        StepSensors(profile, state, seconds);
    }

    /// <summary>Share of its cold mass flow that the blower moves at fixed speed with the outlet this hot, 1.</summary>
    public static double HotFactor(PlantProfile profile, double outletC)
    {
        ArgumentNullException.ThrowIfNull(profile);
        double share = (outletC - profile.AmbientC) / (profile.SetpointC - profile.AmbientC);
        return 1.0 - ((1.0 - profile.HotToColdFlow) * Math.Clamp(share, 0.0, 1.0));
    }

    /// <summary>Heat stored in element and lining above the temperature of the hall, kJ.</summary>
    public static double StoredKj(PlantProfile profile, HeaterState state)
    {
        ArgumentNullException.ThrowIfNull(profile);
        ArgumentNullException.ThrowIfNull(state);
        double wire = profile.WireKg * profile.WireKjPerKgK * (state.ElementC - profile.AmbientC);
        return wire + (profile.LiningKjPerK * (state.LiningC - profile.AmbientC));
    }

    private static void StepFlow(PlantProfile p, HeaterState s, double blowerShare, double flowFactor, double seconds)
    {
        s.BlowerSpeed += (blowerShare - s.BlowerSpeed) * seconds / p.BlowerTauS;
        if (s.BlowerSpeed < StandstillShare)
        {
            s.BlowerSpeed = 0.0;
        }

        s.FlowKgPerHour = s.BlowerSpeed * p.ColdFullFlowKgPerHour * HotFactor(p, s.DuctC) * flowFactor;
        s.MeterKgPerHour += (s.FlowKgPerHour - s.MeterKgPerHour) * seconds / p.MeterDampingS;
    }

    private static void StepLumps(PlantProfile p, HeaterState s, double powerKw, double seconds)
    {
        double gasKw = GasHeatKw(p, s);
        double toLiningKw = ToLiningKw(p, s);
        double lossKw = p.LossWPerK / 1000.0 * (s.LiningC - p.AmbientC);
        s.ElementC += seconds * (powerKw - gasKw - toLiningKw) / (p.WireKg * p.WireKjPerKgK);
        s.LiningC += seconds * (toLiningKw - lossKw) / p.LiningKjPerK;
        s.PowerKw = powerKw;
        s.GasKw = gasKw;
        s.LossKw = lossKw;
    }

    private static double GasHeatKw(PlantProfile p, HeaterState s)
    {
        if (s.FlowKgPerHour <= 0.0)
        {
            s.GasC = s.ElementC;
            return 0.0;
        }

        double ntu = p.Ntu * Math.Pow(s.FlowKgPerHour / p.ReferenceFlowKgPerHour, -0.4);
        s.GasC = p.InletC + ((1.0 - Math.Exp(-ntu)) * (s.ElementC - p.InletC));
        return s.FlowKgPerHour / 3600.0 * (GasEnthalpy.KjPerKg(p.Gas, s.GasC) - GasEnthalpy.KjPerKg(p.Gas, p.InletC));
    }

    private static double ToLiningKw(PlantProfile p, HeaterState s)
    {
        double radiated = Fourth(s.ElementC + ZeroCelsiusK) - Fourth(s.LiningC + ZeroCelsiusK);
        return (p.CouplingWPerK / 1000.0 * (s.ElementC - s.LiningC)) + (p.EffectiveEmissivity * StefanBoltzmannKw * p.WireM2 * radiated);
    }

    private static void StepSensors(PlantProfile p, HeaterState s, double seconds)
    {
        double share = s.FlowKgPerHour / p.ReferenceFlowKgPerHour;
        double still = Math.Max(0.0, 1.0 - (share / StagnantShare));
        double swept = (s.GasC - s.DuctC) * share / DuctHoldS * (1.0 - still);
        double cooled = (p.AmbientC - s.DuctC) / p.StagnantDuctTauS * still;
        s.DuctC += seconds * (swept + cooled);
        double lagS = share > 0.0 ? Math.Min(p.OutletStillTauS, p.OutletTauS / Math.Sqrt(share)) : p.OutletStillTauS;
        s.OutletJunctionC += seconds * (s.DuctC - s.OutletJunctionC) / lagS;
        s.ElementJunctionC += seconds * (s.ElementC - s.ElementJunctionC) / p.ElementTauS;
    }

    private static double Fourth(double value) => value * value * (value * value);
}
