namespace EdgeGuard.Core.Thermal;

/// <summary>
/// Power less stored heat and learnt loss against ṁ·Δh, over blocks of scans, with an uncertainty of its own: the limit
/// of BALA is that uncertainty and no guess. A residual beyond it says that flow, a temperature or the power is
/// misread. Judged in quasi-steady blocks only.
/// </summary>
/// <remarks>
/// Uncertainty: independent contributions added as squares, coverage factor 2 (JCGM 100, GUM). Loss: proportional to
/// element less ambient; learnt from quasi-steady blocks, as a mean over <see cref="EnergyBalanceTable.LearnBlocks"/>
/// of them, each bounded to 0 and the most loss of the table. After that it stands still until it is learnt anew on
/// purpose: a loss that went on learning would swallow the drift it is there to show. Allocates nothing after start.
/// </remarks>
public sealed class EnergyBalance
{
    private const double SecondsPerHour = 3600;
    private const double Coverage = 2;

    /// <summary>A loss is learnt only with the element this far above ambient, K: below it the quotient is noise.</summary>
    private const double LearnAboveK = 100;

    private readonly EnergyBalanceTable _table;
    private int _count;
    private double _sumKw;
    private double _sumKgPerHour;
    private double _sumInletC;
    private double _sumOutletC;
    private double _sumElementC;
    private EnergyBalanceSample _first;
    private double _leastFlow;
    private double _mostFlow;
    private double _lossMean;
    private double _lossSquares;

    /// <summary>An empty balance: nothing learnt, nothing judged.</summary>
    /// <param name="table">Settings; a block has two scans at least.</param>
    public EnergyBalance(EnergyBalanceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentOutOfRangeException.ThrowIfLessThan(table.BlockScans, 2);
        ArgumentOutOfRangeException.ThrowIfLessThan(table.LearnBlocks, 2);
        _table = table;
    }

    /// <summary>Blocks learnt from so far, at most those of the table.</summary>
    public int LearntBlocks { get; private set; }

    /// <summary>True when the loss is learnt, so that the balance judges.</summary>
    public bool IsLearnt => LearntBlocks >= _table.LearnBlocks;

    /// <summary>Loss per kelvin of element above ambient, kW/K; the mean of what was learnt so far.</summary>
    public double LossKwPerK => _lossMean;

    /// <summary>True when the latest block was quasi-steady, so that <see cref="ResidualKw"/> means something.</summary>
    public bool IsSteady { get; private set; }

    /// <summary>P − stored − loss − ṁΔh of the latest quasi-steady block, kW; NaN before one.</summary>
    public double ResidualKw { get; private set; } = double.NaN;

    /// <summary>Expanded uncertainty of the residual (coverage factor 2), kW; NaN before a block.</summary>
    public double UncertaintyKw { get; private set; } = double.NaN;

    /// <summary>True when the latest block was quasi-steady, the loss is learnt and the residual lies beyond its uncertainty.</summary>
    public bool Disagrees => IsSteady && IsLearnt && Math.Abs(ResidualKw) > UncertaintyKw;

    /// <summary>Takes one scan. At the end of a block the residual is renewed and, while learning, the loss.</summary>
    /// <param name="sample">Values of the scan.</param>
    /// <returns>True when a block ended with this scan.</returns>
    public bool Add(in EnergyBalanceSample sample)
    {
        if (_count == 0)
        {
            Begin(sample);
        }

        _sumKw += sample.PowerKw;
        _sumKgPerHour += sample.FlowKgPerHour;
        _sumInletC += sample.InletC;
        _sumOutletC += sample.OutletC;
        _sumElementC += sample.ElementC;
        _leastFlow = Math.Min(_leastFlow, sample.FlowKgPerHour);
        _mostFlow = Math.Max(_mostFlow, sample.FlowKgPerHour);
        _count++;
        if (_count < _table.BlockScans)
        {
            return false;
        }

        End(sample);
        return true;
    }

    /// <summary>Drops the block under way: after a gap in the scans.</summary>
    public void DropBlock() => _count = 0;

    /// <summary>What was learnt so far, to be kept.</summary>
    public LearntLoss Learnt => new(LearntBlocks, _lossMean, _lossSquares);

    /// <summary>Goes on from what an earlier run learnt; figures that cannot have been learnt with this table are left.</summary>
    /// <param name="learnt">What was kept.</param>
    /// <returns>False when nothing was taken.</returns>
    public bool TryRestore(in LearntLoss learnt)
    {
        bool possible = learnt.Blocks > 0
            && learnt.KwPerK >= 0 && learnt.KwPerK <= _table.LossMaxKwPerK
            && learnt.Squares >= 0 && double.IsFinite(learnt.Squares);
        if (!possible)
        {
            return false;
        }

        LearntBlocks = Math.Min(learnt.Blocks, _table.LearnBlocks);
        _lossMean = learnt.KwPerK;
        _lossSquares = learnt.Squares;
        return true;
    }

    /// <summary>Forgets the learnt loss, on a person's word after work on the heater.</summary>
    public void LearnAnew()
    {
        LearntBlocks = 0;
        _lossMean = 0;
        _lossSquares = 0;
    }

    private void Begin(in EnergyBalanceSample sample)
    {
        _first = sample;
        _sumKw = 0;
        _sumKgPerHour = 0;
        _sumInletC = 0;
        _sumOutletC = 0;
        _sumElementC = 0;
        _leastFlow = sample.FlowKgPerHour;
        _mostFlow = sample.FlowKgPerHour;
    }

    private void End(in EnergyBalanceSample last)
    {
        int count = _count;
        _count = 0;
        var mean = new EnergyBalanceSample(
            _sumKw / count, _sumKgPerHour / count, _sumInletC / count, _sumOutletC / count, _sumElementC / count);
        IsSteady = IsQuasiSteady(mean, last);
        if (!IsSteady)
        {
            return;
        }

        double seconds = (count - 1) * _table.ScanSeconds;
        double storedKw = _table.StoredKJPerK * (last.ElementC - _first.ElementC) / seconds;
        double gasKw = GasEnthalpy.PowerToHeatKw(_table.Gas, mean.FlowKgPerHour, mean.InletC, mean.OutletC);
        Learn(mean.PowerKw - storedKw - gasKw, mean.ElementC - _table.AmbientC);
        double lossKw = _lossMean * (mean.ElementC - _table.AmbientC);
        ResidualKw = mean.PowerKw - storedKw - lossKw - gasKw;
        UncertaintyKw = Coverage * Math.Sqrt(Variance(mean, gasKw, storedKw, lossKw));
    }

    private bool IsQuasiSteady(in EnergyBalanceSample mean, in EnergyBalanceSample last) =>
        double.IsFinite(mean.PowerKw) && mean.FlowKgPerHour > 0
        && Math.Abs(last.ElementC - _first.ElementC) <= _table.SteadyK
        && Math.Abs(last.OutletC - _first.OutletC) <= _table.SteadyK
        && double.IsFinite(mean.ElementC) && double.IsFinite(mean.InletC) && double.IsFinite(mean.OutletC)
        && _mostFlow - _leastFlow <= _table.SteadyFlowPercent / 100 * mean.FlowKgPerHour;

    private void Learn(double missingKw, double aboveAmbientK)
    {
        if (IsLearnt || !(aboveAmbientK >= LearnAboveK))
        {
            return;
        }

        // Running mean and sum of squares (Welford): exact for the few blocks of a learning time.
        double bounded = Math.Clamp(missingKw / aboveAmbientK, 0, _table.LossMaxKwPerK);
        LearntBlocks++;
        double before = bounded - _lossMean;
        _lossMean += before / LearntBlocks;
        _lossSquares += before * (bounded - _lossMean);
    }

    private double Variance(in EnergyBalanceSample mean, double gasKw, double storedKw, double lossKw)
    {
        double kgPerSecond = mean.FlowKgPerHour / SecondsPerHour;
        double inletKw = kgPerSecond * SpecificHeatKJPerKgK(mean.InletC) * _table.TemperatureK;
        double outletKw = kgPerSecond * SpecificHeatKJPerKgK(mean.OutletC) * _table.TemperatureK;
        double scatter = LearntBlocks > 1 ? _lossSquares / (LearntBlocks - 1) / LearntBlocks : 0;
        double aboveK = mean.ElementC - _table.AmbientC;
        return Square(_table.PowerPercent / 100 * mean.PowerKw)
            + Square(_table.FlowPercent / 100 * gasKw)
            + Square(inletKw)
            + Square(outletKw)
            + Square(_table.StoredPercent / 100 * storedKw)
            + Square(_table.LossPercent / 100 * lossKw)
            + (scatter * aboveK * aboveK);
    }

    private double SpecificHeatKJPerKgK(double celsius) =>
        GasEnthalpy.DeltaJoulePerKg(_table.Gas, celsius - 1, celsius + 1) / 2000;

    private static double Square(double x) => x * x;
}
