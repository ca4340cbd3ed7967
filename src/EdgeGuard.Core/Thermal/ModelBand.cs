namespace EdgeGuard.Core.Thermal;

/// <summary>
/// Element less outlet against what the heater showed at commissioning for the same power per kilogram of gas: a
/// thermocouple that was displaced, or reads the wrong place, reads a good value that does not belong there. Judged only
/// when nothing has moved for a while, since a lining that still warms takes power that the gas never sees.
/// </summary>
/// <remarks>
/// A wire of one temperature along a stream: T_el − T_out = Q/(ṁ c) · 1/(exp(NTU) − 1) (exchanger of effectiveness
/// 1 − exp(−NTU), textbook). So at one flow the difference is proportional to P/ṁ; the factor depends on the flow alone and
/// is taken from the points, with straight lines between them. Uncertainty: independent contributions added as
/// squares, coverage factor 2 (JCGM 100, GUM). Allocates nothing after start.
/// </remarks>
public sealed class ModelBand
{
    private const double SecondsPerHour = 3600;
    private const double Coverage = 2;

    private readonly ModelBandTable _table;
    private readonly ModelPoint[] _points;
    private EnergyBalanceSample _sum;
    private EnergyBalanceSample _anchor;
    private int _count;
    private int _steadyBlocks;

    /// <summary>A band that has seen nothing.</summary>
    /// <param name="table">Settings; two points with rising flows and a block of two scans at least.</param>
    public ModelBand(ModelBandTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentOutOfRangeException.ThrowIfLessThan(table.Points.Count, 2);
        ArgumentOutOfRangeException.ThrowIfLessThan(table.BlockScans, 2);
        ArgumentOutOfRangeException.ThrowIfLessThan(table.SteadyBlocks, 1);
        _table = table;
        _points = new ModelPoint[table.Points.Count];
        _points[0] = table.Points[0];
        for (int i = 1; i < _points.Length; i++)
        {
            _points[i] = table.Points[i];
            ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(_points[i].FlowKgPerHour, _points[i - 1].FlowKgPerHour, nameof(table));
        }
    }

    /// <summary>True when the latest block was quasi-steady and within the flows of the points, so that it says something.</summary>
    public bool IsJudged { get; private set; }

    /// <summary>Element less outlet in the latest judged block, K; NaN before one.</summary>
    public double DifferenceK { get; private set; } = double.NaN;

    /// <summary>What it should have been, K; NaN before a judged block.</summary>
    public double ExpectedK { get; private set; } = double.NaN;

    /// <summary>Expanded uncertainty of the comparison (coverage factor 2), K; NaN before a judged block.</summary>
    public double UncertaintyK { get; private set; } = double.NaN;

    /// <summary>True when the latest block was judged and lies outside the band.</summary>
    public bool IsOutside => IsJudged && Math.Abs(DifferenceK - ExpectedK) > UncertaintyK;

    /// <summary>Takes one scan.</summary>
    /// <param name="sample">Values of the scan; one that is not good is NaN and spoils its block.</param>
    /// <returns>True when a block ended with this scan.</returns>
    public bool Add(in EnergyBalanceSample sample)
    {
        _sum = _count == 0 ? sample : Plus(_sum, sample);
        _count++;
        if (_count < _table.BlockScans)
        {
            return false;
        }

        End();
        return true;
    }

    /// <summary>Forgets the block under way and how long it has been steady: after a gap in the scans, without power.</summary>
    public void Drop()
    {
        _count = 0;
        _steadyBlocks = 0;
        IsJudged = false;
    }

    private static EnergyBalanceSample Plus(in EnergyBalanceSample a, in EnergyBalanceSample b) => new(
        a.PowerKw + b.PowerKw, a.FlowKgPerHour + b.FlowKgPerHour, a.InletC + b.InletC, a.OutletC + b.OutletC, a.ElementC + b.ElementC);

    private void End()
    {
        int n = _count;
        _count = 0;
        var mean = new EnergyBalanceSample(_sum.PowerKw / n, _sum.FlowKgPerHour / n, _sum.InletC / n, _sum.OutletC / n, _sum.ElementC / n);
        if (_steadyBlocks == 0 || !IsAsBefore(mean))
        {
            // A value that is not finite becomes no anchor: nothing ever agrees with it.
            _anchor = mean;
            _steadyBlocks = 1;
            IsJudged = false;
            return;
        }

        _steadyBlocks = Math.Min(_steadyBlocks + 1, _table.SteadyBlocks + 1);
        IsJudged = _steadyBlocks > _table.SteadyBlocks && IsWithinPoints(mean.FlowKgPerHour);
        if (IsJudged)
        {
            Judge(mean);
        }
    }

    private bool IsAsBefore(in EnergyBalanceSample mean) =>
        Math.Abs(mean.ElementC - _anchor.ElementC) <= _table.SteadyK
        && Math.Abs(mean.OutletC - _anchor.OutletC) <= _table.SteadyK
        && Math.Abs(mean.PowerKw - _anchor.PowerKw) <= _table.SteadyPowerPercent / 100 * _table.RatedPowerKw
        && Math.Abs(mean.FlowKgPerHour - _anchor.FlowKgPerHour) <= _table.SteadyFlowPercent / 100 * _anchor.FlowKgPerHour;

    /// <summary>A steady flow may lie as far beyond an end as it may move.</summary>
    private bool IsWithinPoints(double flow)
    {
        double share = _table.SteadyFlowPercent / 100;
        return flow >= _points[0].FlowKgPerHour * (1 - share) && flow <= _points[^1].FlowKgPerHour * (1 + share);
    }

    private void Judge(in EnergyBalanceSample mean)
    {
        DifferenceK = mean.ElementC - mean.OutletC;
        ExpectedK = Factor(mean.FlowKgPerHour) * Math.Max(0, mean.PowerKw) * SecondsPerHour / mean.FlowKgPerHour;
        double percent = (_table.PowerPercent * _table.PowerPercent) + (_table.FlowPercent * _table.FlowPercent) + (_table.ModelPercent * _table.ModelPercent);
        double model = ExpectedK * ExpectedK * percent / 10_000;
        UncertaintyK = Coverage * Math.Sqrt((2 * _table.TemperatureK * _table.TemperatureK) + model);
    }

    /// <summary>Kelvin for each kJ/kg at a flow; beyond the ends the line goes on.</summary>
    private double Factor(double flow)
    {
        int i = 1;
        while (i < _points.Length - 1 && flow > _points[i].FlowKgPerHour)
        {
            i++;
        }

        ModelPoint low = _points[i - 1];
        ModelPoint high = _points[i];
        double share = (flow - low.FlowKgPerHour) / (high.FlowKgPerHour - low.FlowKgPerHour);
        return low.KelvinPerKjPerKg + (share * (high.KelvinPerKjPerKg - low.KelvinPerKjPerKg));
    }
}
