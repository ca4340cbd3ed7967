using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Turns the image of a scan into the facts that several functions share: key, heat stored, slopes, proof of flow and
/// of power off. Each fact that cannot be known takes its safe side: not supervised, hot, not proved.
/// All of them rest on real values, never on forced ones.
/// </summary>
internal sealed class UnitFacts
{
    /// <summary>Heat counts as carried away this far below the after-cooling limit, K.</summary>
    private const double ColdHysteresisK = 5;

    /// <summary>A blower demand up to this reads as stopped, per cent.</summary>
    private const double StoppedPercent = 0.05;

    /// <summary>Points of a slope window at most; samples in between are averaged.</summary>
    private const int SlopePointsMax = 60;

    private readonly SlopeEstimator _elementSlope;
    private readonly SlopeEstimator _coolSlope;
    private readonly PowerProof _power = new();
    private ScanDelay _flowProof;
    private bool _wasLocal;

    public UnitFacts(UnitMemory unit)
    {
        _elementSlope = Estimator(unit, unit.Table.Nors.DelayMs);
        _coolSlope = Estimator(unit, unit.Table.Cool.WindowMs);
        unit.HeatStored = true;
    }

    public void Update(UnitMemory unit)
    {
        UpdateKey(unit);
        UpdateHeat(unit);
        UpdateFlow(unit);
        _power.Update(unit);
        ref SignalValue watchdog = ref unit.Image[SignalRole.WatchdogTime];
        unit.WatchdogAgrees = !unit.Fitted[(int)SignalRole.WatchdogTime]
            || (watchdog.IsGood && Math.Abs(watchdog.Value - unit.Table.WatchdogMs) < 0.5);
        UpdateSettings(unit);
    }

    /// <summary>Settings that are not known agree as little as different ones; only those found different end a permit.</summary>
    private static void UpdateSettings(UnitMemory unit)
    {
        bool differ = unit.ValueOrNaN(SignalRole.ControllerSettings) < 0.5 || unit.ValueOrNaN(SignalRole.MeterSettings) < 0.5;
        bool unknown = IsUnknown(unit, SignalRole.ControllerSettings) || IsUnknown(unit, SignalRole.MeterSettings);
        unit.SettingsDiffer = differ;
        unit.SettingsAgree = !differ && !unknown;
    }

    private static bool IsUnknown(UnitMemory unit, SignalRole role) => unit.Fitted[(int)role] && !unit.IsGood(role);

    private static SlopeEstimator Estimator(UnitMemory unit, int windowMs)
    {
        int samples = Math.Max(2, unit.Scans(windowMs));
        return new SlopeEstimator(samples, unit.Site.ScanMs / 1000.0, Math.Max(1, samples / SlopePointsMax));
    }

    private static double Slope(SlopeEstimator estimator, double value)
    {
        estimator.Add(value);
        return estimator.IsFull ? estimator.KPerMinute : double.NaN;
    }

    private void UpdateKey(UnitMemory unit)
    {
        bool fitted = unit.Fitted[(int)SignalRole.KeySupervised];
        ref SignalValue key = ref unit.Image[SignalRole.KeySupervised];
        unit.KeyLocal = fitted && key.IsGood && key.Value < 0.5;
        unit.KeySupervised = !fitted || (key.IsGood && key.Value >= 0.5);
        if (_wasLocal && unit.KeySupervised)
        {
            unit.RemovalScan = unit.Scan; // The cabinet hands over: whatever power it left is removed from now on.
        }

        _wasLocal = unit.KeyLocal || (_wasLocal && !unit.KeySupervised);
    }

    private void UpdateHeat(UnitMemory unit)
    {
        double limit = unit.Table.Cool.AfterCoolingBelowC + (unit.HeatStored ? -ColdHysteresisK : unit.Table.Cool.SoakBackK);
        double element = unit.RealOrNaN(SignalRole.ElementTemperature);

        // A shorted element sensor reads cold: warm gas at the outlet shows stored heat all the same.
        unit.HeatStored = !(element < limit) || unit.RealOrNaN(SignalRole.OutletTemperature) >= limit;
        if (unit.Raw.SkippedScans > 0)
        {
            _elementSlope.Clear(); // A window with a hole would show a slope that never was.
            _coolSlope.Clear();
        }

        unit.ElementSlopeKPerMin = Slope(_elementSlope, element);
        unit.CoolSlopeKPerMin = Slope(_coolSlope, unit.RealOrNaN(unit.Table.Cool.Signal));
    }

    private void UpdateFlow(UnitMemory unit)
    {
        FlowTable table = unit.Table.Flow;
        double flow = unit.RealOrNaN(SignalRole.GasFlow);
        bool proving = unit.State == UnitState.PreFlow && flow >= table.ProvingKgPerHour;
        unit.FlowProved = _flowProof.Passed(proving, unit.SeenScan, unit.Scans(unit.StartedHot ? table.HotPreFlowMs : table.PreFlowMs));

        // A unit without a commanded blower has its gas from elsewhere: there the flow alone shows that the signal can read low.
        double blower = unit.Fitted[(int)SignalRole.BlowerDemand] ? unit.RealOrNaN(SignalRole.BlowerDemand) : 0;
        unit.FlowZeroNow = flow < table.LimitKgPerHour && blower <= StoppedPercent;
    }
}
