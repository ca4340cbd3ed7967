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
            Force(unit, function),
            Shares(unit, site.Units[index], function),
            Times(site.Units[index], function));
    }

    /// <summary>Strongest reaction on this unit; null where the site does not configure the function.</summary>
    private static Reaction? ReactionOf(UnitTable unit, FunctionId function) => function switch
    {
        FunctionId.Phas when unit.Phas is null => null,
        FunctionId.Leak when unit.Leak is null => null,
        FunctionId.Bala when unit.Bala is null => null,
        FunctionId.Bala when unit.Bala is { ControlledShutdown: false } => Reaction.Alarm,
        _ => FunctionIds.ReactionOf(function),
    };

    private static string ReactionWords(UnitTable unit, FunctionId function)
    {
        if (ReactionOf(unit, function) is not { } reaction)
        {
            return NoEffect;
        }

        string words = reaction switch
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

    private static string Force(UnitTable unit, FunctionId function)
    {
        string[] signals = [.. unit.Force.Signals.Where(s => FunctionIds.RestsOn(function, s.Role) && SignalRoles.MayBeForced(s.Role))
            .Select(s => string.Create(CultureInfo.InvariantCulture, $"{s.Role} {s.Min} to {s.Max}"))];
        return signals.Length == 0 ? "no" : string.Create(CultureInfo.InvariantCulture, $"{string.Join(", ", signals)}, up to {unit.Force.MaxMinutes} min");
    }

    private static string[] Effects(SiteConfiguration site, int unit, FunctionId function)
    {
        bool writes = site.Table.Units[unit].Mode == UnitMode.Enforce;
        Reaction? reaction = ReactionOf(site.Table.Units[unit], function);
        bool removes = writes && reaction == Reaction.Removal;
        bool leads = writes && reaction == Reaction.Controlled;
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

    private static string Shares(UnitTable unit, UnitOptions options, FunctionId function)
    {
        SignalRole[] sensing = [.. Sensing(function).Where(r => unit.Signals.Any(s => s.Role == r))];
        if (sensing.Length == 0 || ReactionOf(unit, function) is null)
        {
            return NoEffect;
        }

        int shared = sensing.Count(options.SharedWithControl.Contains);
        return shared == 0 ? "no" : shared == sensing.Length ? "yes: read through the controller" : "in part";
    }

    /// <summary>Signals that a function judges, redundant sensors included; those that are not fitted do not count.</summary>
    private static SignalRole[] Sensing(FunctionId function) => function switch
    {
        FunctionId.Hard => [SignalRole.ChainHealthy],
        FunctionId.Flow => [SignalRole.GasFlow, SignalRole.GasFlow2, SignalRole.GasFlow3],
        FunctionId.Elem => [SignalRole.ElementTemperature, SignalRole.ElementTemperature2, SignalRole.ElementTemperature3],
        FunctionId.Outl => [SignalRole.OutletTemperature, SignalRole.OutletTemperature2, SignalRole.OutletTemperature3],
        FunctionId.Heat or FunctionId.Aftc => [SignalRole.ElementTemperature],
        FunctionId.Cool => [SignalRole.OutletTemperature],
        FunctionId.Nors => [SignalRole.ElementTemperature, SignalRole.Power],
        FunctionId.Resd or FunctionId.Dmnd => [SignalRole.Power],
        FunctionId.Sens => [SignalRole.ElementTemperature, SignalRole.OutletTemperature, SignalRole.GasFlow, SignalRole.Power],
        FunctionId.Cmdv => [SignalRole.Output],
        FunctionId.Phas => [SignalRole.CurrentL1, SignalRole.CurrentL2, SignalRole.CurrentL3],
        FunctionId.Leak => [SignalRole.EarthLeakage, SignalRole.Insulation],
        FunctionId.Bala => [SignalRole.Power, SignalRole.GasFlow, SignalRole.InletTemperature, SignalRole.OutletTemperature, SignalRole.ElementTemperature],
        _ => [],
    };

    private static string Times(UnitOptions options, FunctionId function)
    {
        IEnumerable<string> times = options.Budgets.Where(b => b.Function == function)
            .Select(b => b.Verdict == BudgetVerdict.NoCover ? $"{b.ScenarioName}: no cover" : $"{b.ScenarioName}: {BudgetTerm.Seconds(b.WorstMs)} of {BudgetTerm.Seconds(b.AvailableMs)}");
        string text = string.Join("; ", times);
        return text.Length > 0 ? text : NoEffect;
    }
}
