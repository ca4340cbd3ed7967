using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Service.FieldIo;
using EdgeGuard.Service.ReactionTimes;

namespace EdgeGuard.Service.Configuration;

// The digest stands in the journal, so that a reviewer can tell with which settings a decision was taken. It covers
// every setting that decides, defaults included, and nothing else: not comments, not the order of keys, not the folder.
// A test changes each setting in turn and expects another digest.

/// <summary>Canonical text of the effective settings and its digest.</summary>
internal static class SettingsText
{
    public static string Digest(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    public static string Write(SiteConfiguration site)
    {
        var lines = new StringBuilder();
        Line(lines, "site", site.Table.Name);
        Line(lines, "scanMs", site.Table.ScanMs);
        Line(lines, "supplyLimitKw", site.Table.SupplyLimitKw);
        Line(lines, "journalFailureMs", site.Table.JournalFailureMs);
        for (int i = 0; i < site.Links.Count; i++)
        {
            LinkOptions link = site.Links[i];
            Line(lines, $"link.{i}", link.Name, (int)link.Transport, link.Host, link.Port, link.SerialPort, link.Baud, (int)link.Parity, link.StopBits, link.ConnectMs, link.AnswerMs, link.PollLeadMs, link.ReconnectMinMs, link.ReconnectMaxMs, link.ZeroTransactionIds ? 1 : 0, link.LocalEcho ? 1 : 0);

            // Whom the link trusts decides; the own certificate is renewed without another decision.
            if (link.Security is { } security)
            {
                Line(lines, $"link.{i}.security", security.ServerName ?? string.Empty, string.Join(' ', security.TrustedIssuers.Select(static c => c.GetCertHashString(HashAlgorithmName.SHA256))));
            }
        }

        for (int i = 0; i < site.Blocks.Count; i++)
        {
            PollBlock block = site.Blocks[i];
            Line(lines, $"block.{i}", block.LinkIndex, block.DeviceUnitId, (int)block.Table, block.Address, block.Count, block.EveryScans, string.Join(' ', block.Spans.Select(s => $"{s.Offset}+{s.Count}")));
        }

        foreach (DeviceOptions device in site.Devices.Where(d => d.SettingsBlock >= 0))
        {
            foreach (SettingPoint point in device.Settings)
            {
                Line(lines, $"settings.{device.Name}.{point.Name}", device.LinkIndex, device.UnitId, device.SettingsBlock, (int)point.Table, point.Address, point.Count, point.Mask, string.Join(' ', point.Commissioned));
            }
        }

        foreach (CombinedVerdictTable verdict in site.Verdicts)
        {
            Line(lines, $"settings.verdict.{verdict.Block}", string.Join(' ', verdict.Parts));
        }

        for (int i = 0; i < site.Table.Units.Count; i++)
        {
            WriteUnit(lines, $"unit.{i}", site.Table.Units[i]);
            WriteOptions(lines, $"unit.{i}", site.Units[i]);
        }

        foreach (CommandPoint point in site.Commands.OfType<CommandPoint>())
        {
            Line(lines, $"unit.{point.Unit}.write.{(int)point.Role}", point.LinkIndex, point.DeviceUnitId, (int)point.Table, point.Address, (int)point.Type, (int)point.Order, point.Scale, point.Offset, point.Min, point.Max, point.Volatile ? 1 : 0);
        }

        return lines.ToString();
    }

    private static void WriteUnit(StringBuilder lines, string key, UnitTable unit)
    {
        Line(lines, key, unit.Name, (int)unit.Mode, (int)unit.FinalElement, unit.RatedPowerKw, unit.RampPowerKw, unit.SetpointC, unit.TripSetpointC, unit.RemoteReset ? 1 : 0, (int)unit.Gas);
        Line(lines, $"{key}.times", unit.WatchdogMs, unit.CommLimitMs, unit.SensDelayMs);
        Line(lines, $"{key}.flow", unit.Flow.LimitKgPerHour, unit.Flow.AfterCoolingKgPerHour, unit.Flow.DelayMs, unit.Flow.ProvingKgPerHour, unit.Flow.PreFlowMs, unit.Flow.HotPreFlowMs);
        Line(lines, $"{key}.flow.need", unit.Flow.HysteresisKgPerHour, unit.Flow.PowerTerm ? 1 : 0, unit.Flow.InletHighestC, unit.Flow.StoredHeatKjPerK, unit.Flow.SetbackMs);
        foreach (FlowCurvePoint point in unit.Flow.Curve)
        {
            Line(lines, $"{key}.flow.curve", point.TemperatureC, point.FlowKgPerHour);
        }

        foreach (VotingTable voting in unit.Voting)
        {
            Line(lines, $"{key}.voting.{(int)voting.Role}", (int)voting.Scheme, voting.DeviationMax, voting.DeviationDelayMs, voting.DegradedMs);
        }

        WriteFitted(lines, key, unit);
        Line(lines, $"{key}.elem", unit.Elem.AlarmC, unit.Elem.TripC, unit.Elem.DelayMs, unit.Elem.HysteresisK);
        Line(lines, $"{key}.outl", unit.Outl.AlarmC, unit.Outl.TripC, unit.Outl.DelayMs, unit.Outl.HysteresisK);
        Line(lines, $"{key}.nors", unit.Nors.PowerPercent, unit.Nors.DelayMs, unit.Nors.SlopeKPerMin, unit.Nors.FallingKPerMin);
        Line(lines, $"{key}.resd", unit.Resd.LimitPercent, unit.Resd.BlankingMs, unit.Resd.ProofMs);
        Line(lines, $"{key}.bypass", unit.Bypass.MaxMinutes, string.Join(',', unit.Bypass.Functions.Select(static f => (int)f)), unit.RepeatedResetsPerHour);
        Line(lines, $"{key}.force", unit.Force.MaxMinutes, unit.Force.StartWhileForced ? 1 : 0);
        foreach (ForcibleSignal signal in unit.Force.Signals)
        {
            Line(lines, $"{key}.force.{(int)signal.Role}", signal.Min, signal.Max);
        }

        Line(lines, $"{key}.alarms", unit.Shelf.MaxMinutes, unit.Shelf.OutOfService ? 1 : 0, string.Join(',', unit.Shelf.Marked.Select(static f => (int)f)));
        CoolTable cool = unit.Cool;
        Line(lines, $"{key}.cool", cool.RampUpKPerMin, cool.RampDownKPerMin, (int)cool.Signal, cool.WindowMs, cool.ToleranceKPerMin, cool.HeatAlarmKPerMin, cool.AfterCoolingBelowC, cool.BlowerRunPercent, cool.BlowerAfterPercent, cool.BlowerEasePercentPerSecond, cool.SoakBackK);
        foreach (SignalTable signal in unit.Signals)
        {
            Line(lines, $"{key}.signal.{(int)signal.Role}", signal.Block, signal.WordOffset, (int)signal.Type, (int)signal.Order, signal.Bit, signal.BitCount, signal.Scale, signal.Offset, signal.RangeMin, signal.RangeMax, signal.StaleMs, signal.HoldMs, signal.Sentinel);
        }

        foreach (CommandTable command in unit.Commands)
        {
            Line(lines, $"{key}.command.{(int)command.Role}", command.ReadBack is { } role ? (int)role : -1, command.Tolerance);
        }
    }

    private static void WriteFitted(StringBuilder lines, string key, UnitTable unit)
    {
        Line(lines, $"{key}.sens", unit.Sens.FrozenMs, unit.Sens.ExcitationPercent, unit.Sens.SlopeMaxKPerSecond, unit.Sens.NoiseMs, unit.Sens.NoisePercent);
        if (unit.Sens.Model is { } model)
        {
            Line(lines, $"{key}.sens.model", model.BlockScans, model.SteadyBlocks, model.RatedPowerKw, model.SteadyK, model.SteadyPowerPercent, model.SteadyFlowPercent, model.PowerPercent, model.FlowPercent, model.TemperatureK, model.ModelPercent);
            foreach (ModelPoint point in model.Points)
            {
                Line(lines, $"{key}.sens.model.point", point.FlowKgPerHour, point.PowerKw, point.DifferenceK);
            }
        }

        if (unit.Phas is { } phas)
        {
            Line(lines, $"{key}.phas", (int)phas.Connection, phas.DemandPercent, phas.BlockMs, phas.HardPercent, phas.MildPercent, phas.HardDelayMs, phas.MildDelayMs, phas.NoiseAmpere, phas.Alloy ?? string.Empty);
        }

        if (unit.Leak is { } leak)
        {
            Line(lines, $"{key}.leak", leak.LeakageAlarmMilliampere, leak.LeakageLimitMilliampere, leak.InsulationAlarmKiloohm, leak.InsulationLimitKiloohm, leak.DelayMs, leak.TrendDays);
        }

        if (unit.Bala is { } bala)
        {
            EnergyBalanceTable b = bala.Balance;
            Line(lines, $"{key}.bala", bala.Blocks, bala.ControlledShutdown ? 1 : 0, (int)b.Gas, b.RatedPowerKw, b.BlockScans, b.ScanSeconds, b.StoredKJPerK, b.AmbientC, b.LossMaxKwPerK, b.SteadyK, b.SteadyFlowPercent, b.LearnBlocks, b.PowerPercent, b.FlowPercent, b.TemperatureK, b.StoredPercent, b.LossPercent);
        }
    }

    private static void WriteOptions(StringBuilder lines, string key, UnitOptions options)
    {
        Line(lines, $"{key}.facts", (int)options.Gas, options.ElementDestructionC, options.HotToColdFlow, options.FiringCycleMs);
        WriteReaction(lines, $"{key}.reaction", options.Reaction);
        WriteStatement(lines, $"{key}.hardwiredDevice", options.HardwiredDevice);
        WriteStatement(lines, $"{key}.proofTest", options.ProofTest);
        WriteStatement(lines, $"{key}.proofTestWaiver", options.ProofTestWaiver);
        WriteStatement(lines, $"{key}.watchdogBridge", options.WatchdogBridge);
    }

    private static void WriteReaction(StringBuilder lines, string key, ReactionOptions reaction) =>
        Line(lines, key, reaction.Stated ? 1 : 0, reaction.MassKg, reaction.HeatCapacityKJPerKgK, reaction.WireMm, reaction.SurfaceLoadWPerCm2, reaction.DensityKgPerM3, reaction.SensorOnWire ? 1 : 0, reaction.ElementLagMs, reaction.OutletLagMs, reaction.MeterDampingMs, reaction.ContactorMs, reaction.LostAnswers, reaction.SupplyPercent, reaction.ElementOverGasK);

    private static void WriteStatement(StringBuilder lines, string key, DatedStatement? statement)
    {
        if (statement is not null)
        {
            Line(lines, key, statement.Text, statement.Date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        }
    }

    private static void Line(StringBuilder lines, string key, params object[] values)
    {
        lines.Append(key).Append(" = ");
        lines.AppendJoin(" | ", values.Select(Value));
        lines.Append('\n');
    }

    /// <summary>Text is escaped so that no two settings give the same line.</summary>
    private static string Value(object value)
    {
        string text = Convert.ToString(value, CultureInfo.InvariantCulture) ?? string.Empty;
        return text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("|", "\\|", StringComparison.Ordinal);
    }
}
