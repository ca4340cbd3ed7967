using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Rules;

// Which signals a unit cannot do without. Element, outlet, flow and power are what the removing functions judge.
// To enforce, the guard must also see that the output is 0 % before a start and that the cabinet's watchdog has the
// configured time.

/// <summary>The signals a unit must have.</summary>
internal static class SignalRules
{
    private static readonly SignalRole[] Always =
        [SignalRole.ElementTemperature, SignalRole.OutletTemperature, SignalRole.GasFlow, SignalRole.Power];

    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (UnitDraft unit in site.Units.Where(u => u.BindingComplete))
        {
            foreach (SignalRole role in Always)
            {
                Require(unit, role, "every unit", faults);
            }

            if (unit.Enforces)
            {
                Require(unit, SignalRole.Output, "a unit that enforces", faults);
            }

            if (unit.Enforces && unit.HasWatchdog)
            {
                Require(unit, SignalRole.WatchdogTime, "a unit that enforces with a watchdog", faults);
                Require(unit, unit.FinalElement == FinalElementClass.RelayWithWatchdog ? SignalRole.Relay : SignalRole.Enable, "a unit that enforces through it", faults);
            }
        }
    }

    private static void Require(UnitDraft unit, SignalRole role, string owner, FaultList faults)
    {
        if (unit.BoundSignals.ContainsKey(role))
        {
            return;
        }

        string name = RoleFacts.Of(role).Name;
        faults.Add(unit.Section.Place, $"the signal \"{name}\" is missing", $"no point with role \"{name}\" in the maps of \"controller\" and \"meter\"", $"\"{name}\" for {owner}", $"to write \"{name}\" into the role column of the point, or \"signals\": {{ \"{name}\": \"DEVICE.POINT\" }}");
    }
}
