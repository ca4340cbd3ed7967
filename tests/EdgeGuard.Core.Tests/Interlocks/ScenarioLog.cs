using System.Globalization;
using System.Text;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>
/// The log of a scenario: every event, and the wanted writes whenever their set changes. A mark "!" stands behind a
/// write that can only remove power. The permit token and an eased blower change each scan, so only their kind shows;
/// a led setpoint is left out, its value is for <c>expect led=</c>.
/// </summary>
public sealed class ScenarioLog(SiteTable site)
{
    private readonly StringBuilder _text = new();
    private readonly string[] _writes = [.. site.Units.Select(_ => "none")];

    public string Text => _text.ToString();

    public void Take(TestHall hall)
    {
        for (int i = 0; i < hall.Output.EventCount; i++)
        {
            Event(hall.Output.Events[i]);
        }

        for (int i = 0; i < site.Units.Count; i++)
        {
            string writes = Writes(hall[i]);
            if (writes != _writes[i])
            {
                _writes[i] = writes;
                Line(hall.Output.Scan, site.Units[i].Name, "writes " + writes);
            }
        }
    }

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    private static string Writes(UnitDecision unit)
    {
        var parts = new List<string>();
        for (int role = 0; role < CommandRoles.Count; role++)
        {
            CommandDecision command = unit.Commands[role];
            bool ledSetpoint = (CommandRole)role == CommandRole.Setpoint && !command.DeEnergising;
            if (command.Write && !ledSetpoint)
            {
                parts.Add($"{(CommandRole)role}={Shown((CommandRole)role, command)}{(command.DeEnergising ? "!" : "")}");
            }
        }

        return parts.Count == 0 ? "none" : string.Join(' ', parts);
    }

    private static string Shown(CommandRole role, CommandDecision command)
    {
        bool moving = !command.DeEnergising && role is CommandRole.Heartbeat or CommandRole.BlowerDemand;
        bool fixedBlower = role == CommandRole.BlowerDemand && command.Value is 0 or 40 or 100;
        return moving && !fixedBlower && !command.DeEnergising ? "*" : Number(command.Value);
    }

    private void Event(GuardEvent e)
    {
        var text = new StringBuilder(e.Id.ToString());
        switch (e.Id)
        {
            case EventId.StateChanged:
                text.Append(CultureInfo.InvariantCulture, $" {(UnitState)e.Value} -> {(UnitState)e.Limit}");
                break;
            case EventId.RequestRefused:
                text.Append(CultureInfo.InvariantCulture, $" {e.Reason} {e.Function}");
                break;
            case EventId.RequestAccepted or EventId.Reset or EventId.StartAccepted or EventId.Acknowledged:
                break;
            case EventId.ForceBegun or EventId.ForceEnded or EventId.ForceExpired or EventId.ForceEndedByTrip:
                string what = e.Id == EventId.ForceBegun ? "min" : "demands";
                text.Append(CultureInfo.InvariantCulture, $" {(SignalRole)(e.Detail & 0xFF)} {Number(e.Value)} real {Number(e.Limit)} {e.Detail >> 8} {what}");
                break;
            case EventId.ReadBackDiffers:
                text.Append(CultureInfo.InvariantCulture, $" {(CommandRole)e.Detail} reads {Number(e.Value)} wanted {Number(e.Limit)}");
                break;
            default:
                text.Append(CultureInfo.InvariantCulture, $" {e.Function} {Number(e.Value)} / {Number(e.Limit)}");
                text.Append(e.Detail == 0 ? "" : e.Id is EventId.Trip or EventId.Consequence or EventId.WouldTrip or EventId.BypassedDemand or EventId.ForcedDemand ? $" since {e.Detail}" : $" detail {e.Detail}");
                break;
        }

        Line(e.Scan, site.Units[e.Unit].Name, text.ToString());
    }

    private void Line(long scan, string unit, string text) => _text.Append(CultureInfo.InvariantCulture, $"{scan} {unit} {text}\n");
}
