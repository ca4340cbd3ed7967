using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Rules;

/// <summary>What may be written: enough to remove power, never a register that wears out, never one word for two purposes.</summary>
internal static class CommandRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (UnitDraft unit in site.Units)
        {
            foreach ((CommandRole role, BoundPoint point) in unit.BoundCommands)
            {
                CheckEndurance(CommandFacts.Of(role), point, faults);
                CheckSingleBit(point, faults);
                CheckWidth(CommandFacts.Of(role), point, faults);
            }

            if (unit.BindingComplete && unit.Enforces)
            {
                CheckComplete(unit, faults);
            }
        }

        CheckOverlap(site, faults);
    }

    private static void CheckEndurance(CommandFact command, BoundPoint bound, FaultList faults)
    {
        if (bound.Point.Volatile)
        {
            return;
        }

        // 10^5 write cycles, the usual endurance of such memory, at 5 writes a second last 5.6 h.
        string what = command.Role == CommandRole.Heartbeat
            ? "the heartbeat would be written to a non-volatile register"
            : $"the command \"{command.Name}\" would be written again and again to a non-volatile register";
        faults.Add(bound.Point.Place(MapColumns.Volatile), what, $"volatile \"no\" at {bound.Point.AddressText}", "volatile \"yes\": non-volatile memory wears out after some 100000 writes, that is 5.6 h at 5 writes a second", "the device's volatile (RAM, communication) copy of this register, or access \"r\"");
    }

    private static void CheckSingleBit(BoundPoint bound, FaultList faults)
    {
        if (bound.Point.Table == ModbusTable.HoldingRegisters && bound.Point.Type is WordType.Bit or WordType.BitField)
        {
            string what = bound.Point.Type == WordType.Bit ? "writing one bit of a register would overwrite its other 15 bits" : "writing some bits of a register would overwrite its other bits";
            faults.Add(bound.Point.Place(MapColumns.Type), what, $"{Quoted.Of(bound.Point.Cells[MapColumns.Type].Text)} at {bound.Point.AddressText}", "a coil or a whole register", "the coil of this bit if the device offers one, or access \"r\"");
        }
    }

    /// <summary>A command is exchanged between scan and link in one machine word, which has room for two registers.</summary>
    private static void CheckWidth(CommandFact command, BoundPoint bound, FaultList faults)
    {
        if (bound.Point.WordCount > 2)
        {
            faults.Add(bound.Point.Place(MapColumns.Type), $"the command \"{command.Name}\" takes more than two registers", $"{Quoted.Of(bound.Point.Cells[MapColumns.Type].Text)} at {bound.Point.AddressText}", "a type of one or two registers", "the device's 16 or 32 bit copy of this register, or access \"r\"");
        }
    }

    private static void CheckComplete(UnitDraft unit, FaultList faults)
    {
        switch (unit.FinalElement)
        {
            case FinalElementClass.RelayWithWatchdog:
                Require(unit, CommandRole.Relay, "A", faults);
                Require(unit, CommandRole.Heartbeat, "A", faults);
                break;
            case FinalElementClass.EnableWithWatchdog:
                Require(unit, CommandRole.Enable, "B", faults);
                Require(unit, CommandRole.Heartbeat, "B", faults);
                break;
            case FinalElementClass.SetpointOnly when !unit.BoundCommands.ContainsKey(CommandRole.ManualOutput):
                Require(unit, CommandRole.Setpoint, "C", faults);
                break;
            default:
                break;
        }
    }

    private static void Require(UnitDraft unit, CommandRole role, string elementClass, FaultList faults)
    {
        if (unit.BoundCommands.ContainsKey(role))
        {
            return;
        }

        CommandFact command = CommandFacts.Of(role);
        string readBack = RoleFacts.Of(command.ReadBack).Name;
        faults.Add(unit.Section.At("finalElement"), $"the command \"{command.Name}\" is missing", $"no writable point with role \"{readBack}\"", $"\"{command.Name}\" for final element class {elementClass} in mode enforce", $"access \"rw\" at the point with role \"{readBack}\", another class, or \"mode\": \"observe\"");
    }

    private static void CheckOverlap(SiteDraft site, FaultList faults)
    {
        var written = new Dictionary<(int Device, ModbusTable Table, int Address), string>();
        foreach (UnitDraft unit in site.Units)
        {
            foreach ((CommandRole role, BoundPoint bound) in unit.BoundCommands)
            {
                string owner = $"unit {Quoted.Of(unit.Name ?? "?")}, command \"{CommandFacts.Of(role).Name}\"";
                for (int word = 0; word < bound.Point.WordCount; word++)
                {
                    var key = (bound.Device.Index, bound.Point.Table, bound.Point.Address + word);
                    if (!written.TryAdd(key, owner))
                    {
                        faults.Add(unit.Section.Place, "two commands write the same register", $"{bound.Description} for {owner} and {written[key]}", "one command a register", "a device of its own for each unit, or other points under \"commands\"");
                        break;
                    }
                }
            }
        }
    }
}
