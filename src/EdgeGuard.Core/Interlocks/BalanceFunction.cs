using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// BALA: what goes in as power must come out with the gas. A quasi-steady block whose residual lies beyond its own
/// uncertainty says that flow, a temperature or the power is misread; several in a row are an alarm or, where the site
/// says so, a controlled shutdown. Silent until the loss is learnt and while nothing is steady: it can add a finding,
/// never take one away.
/// </summary>
internal sealed class BalanceFunction(BalanceTable? table, LearntLoss kept) : ProtectiveFunction(FunctionId.Bala)
{
    private readonly EnergyBalance? _balance = table is null ? null : Restored(table, kept);
    private int _disagreeing;
    private ScanDelay _found;

    /// <summary>The loss as learnt so far; zero where nothing is balanced.</summary>
    public LearntLoss Learnt => _balance?.Learnt ?? default;

    /// <summary>The loss is learnt.</summary>
    public bool IsLearnt => _balance is { IsLearnt: true };

    public override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        if (table is null || _balance is null)
        {
            status.State = FunctionState.Idle;
            return;
        }

        if (unit.Learns == FunctionId.Bala)
        {
            unit.Learns = FunctionId.None;
            _balance.LearnAnew();
            _disagreeing = 0;
        }

        Gather(unit, _balance);
        bool found = _found.Passed(_disagreeing >= table.Blocks, unit.Scan, 0);
        status.Value = _balance.ResidualKw;
        status.Limit = _balance.UncertaintyKw;
        status.SinceScan = _found.Since;
        status.Reaction = table.ControlledShutdown ? Reaction.Controlled : Reaction.Alarm;
        status.State = found ? table.ControlledShutdown ? FunctionState.Demand : FunctionState.Alarm
            : unit.MayDrawPower && _balance.IsLearnt ? FunctionState.Healthy
            : FunctionState.Idle;
    }

    private static EnergyBalance Restored(BalanceTable table, LearntLoss kept)
    {
        var balance = new EnergyBalance(table.Balance);
        balance.TryRestore(kept);
        return balance;
    }

    private void Gather(UnitMemory unit, EnergyBalance balance)
    {
        if (!unit.MayDrawPower || unit.Raw.SkippedScans > 0)
        {
            balance.DropBlock();
            _disagreeing = unit.MayDrawPower ? _disagreeing : 0;
            return;
        }

        var sample = new EnergyBalanceSample(
            unit.ValueOrNaN(SignalRole.Power), unit.ValueOrNaN(SignalRole.GasFlow), unit.ValueOrNaN(SignalRole.InletTemperature),
            unit.ValueOrNaN(SignalRole.OutletTemperature), unit.ValueOrNaN(SignalRole.ElementTemperature));
        if (balance.Add(sample) && balance.IsSteady)
        {
            _disagreeing = balance.Disagrees ? Math.Min(_disagreeing + 1, table!.Blocks) : 0;
        }
    }
}
