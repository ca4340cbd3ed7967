using System.Globalization;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.ReactionTimes;

/// <summary>
/// The cause-and-effect matrix of a loaded site: what the guard does, with the figures and the paths that this site has,
/// not what it could do. The column "shares with control" says where the sensing of a function is not independent of the
/// controller that it supervises.
/// </summary>
public static class EffectMatrix
{
    private const string NoEffect = "–";

    /// <summary>The paths by which power is removed, and the blower: the columns of <see cref="EffectRow.Effects"/>.</summary>
    public static IReadOnlyList<string> Paths { get; } = ["token", "relay", "enable", "manual, output", "setpoint", "blower"];

    /// <summary>All rows: unit by unit, function by function in the order of evaluation.</summary>
    /// <param name="site">A loaded site.</param>
    public static IReadOnlyList<EffectRow> Of(SiteConfiguration site)
    {
        ArgumentNullException.ThrowIfNull(site);
        var rows = new List<EffectRow>();
        for (int i = 0; i < site.Table.Units.Count; i++)
        {
            for (int id = 1; id < FunctionIds.Count; id++)
            {
                rows.Add(Row(site, i, (FunctionId)id));
            }
        }

        return rows;
    }

    private static EffectRow Row(SiteConfiguration site, int index, FunctionId function)
    {
        UnitTable unit = site.Table.Units[index];
        (string cause, string delay) = EffectCauses.Of(unit, function);
        return new EffectRow(
            unit.Name,
            function,
            cause,
            delay,
            ReactionWords(unit, function),
            Effects(site, index, function),
            Bypass(unit, function),
            Shares(site.Units[index], function),
            Times(site.Units[index], function));
    }

    private static string ReactionWords(UnitTable unit, FunctionId function)
    {
        string words = FunctionIds.ReactionOf(function) switch
        {
            Reaction.Removal => "removal",
            Reaction.Controlled => "controlled shutdown",
            _ => "alarm",
        };
        return unit.Mode == UnitMode.Enforce ? words : $"would: {words} (observe writes nothing)";
    }

    private static string Bypass(UnitTable unit, FunctionId function) =>
        FunctionIds.MayBeBypassed(function) && unit.Bypass.Functions.Contains(function)
            ? string.Create(CultureInfo.InvariantCulture, $"up to {unit.Bypass.MaxMinutes} min")
            : "no";

    private static string[] Effects(SiteConfiguration site, int unit, FunctionId function)
    {
        bool writes = site.Table.Units[unit].Mode == UnitMode.Enforce;
        bool removes = writes && FunctionIds.ReactionOf(function) == Reaction.Removal;
        bool leads = writes && FunctionIds.ReactionOf(function) == Reaction.Controlled;
        bool Has(CommandRole role) => site.Command(unit, role) is not null;
        string tripSetpoint = string.Create(CultureInfo.InvariantCulture, $"{site.Table.Units[unit].TripSetpointC} °C");
        return
        [
            removes && Has(CommandRole.Heartbeat) ? "0" : NoEffect,
            removes && Has(CommandRole.Relay) ? "0" : NoEffect,
            removes && Has(CommandRole.Enable) ? "0" : NoEffect,
            removes && Has(CommandRole.ManualOutput) ? "manual, 0 %" : NoEffect,
            Has(CommandRole.Setpoint) && removes ? tripSetpoint : Has(CommandRole.Setpoint) && leads ? "led down" : NoEffect,
            Has(CommandRole.BlowerDemand) && (removes || leads) ? "kept until power is proved off" : NoEffect,
        ];
    }

    private static string Shares(UnitOptions options, FunctionId function)
    {
        SignalRole[] sensing = function switch
        {
            FunctionId.Hard => [SignalRole.ChainHealthy],
            FunctionId.Flow => [SignalRole.GasFlow],
            FunctionId.Elem or FunctionId.Heat or FunctionId.Aftc => [SignalRole.ElementTemperature],
            FunctionId.Outl or FunctionId.Cool => [SignalRole.OutletTemperature],
            FunctionId.Nors => [SignalRole.ElementTemperature, SignalRole.Power],
            FunctionId.Resd or FunctionId.Dmnd => [SignalRole.Power],
            FunctionId.Sens => [SignalRole.ElementTemperature, SignalRole.OutletTemperature, SignalRole.GasFlow, SignalRole.Power],
            FunctionId.Cmdv => [SignalRole.Output],
            _ => [],
        };
        if (sensing.Length == 0)
        {
            return NoEffect;
        }

        int shared = sensing.Count(options.SharedWithControl.Contains);
        return shared == 0 ? "no" : shared == sensing.Length ? "yes: read through the controller" : "in part";
    }

    private static string Times(UnitOptions options, FunctionId function)
    {
        IEnumerable<string> times = options.Budgets.Where(b => b.Function == function)
            .Select(b => b.Verdict == BudgetVerdict.NoCover ? $"{b.ScenarioName}: no cover" : $"{b.ScenarioName}: {BudgetTerm.Seconds(b.WorstMs)} of {BudgetTerm.Seconds(b.AvailableMs)}");
        string text = string.Join("; ", times);
        return text.Length > 0 ? text : NoEffect;
    }
}
