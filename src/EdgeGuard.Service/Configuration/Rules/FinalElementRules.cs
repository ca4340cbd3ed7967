using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Configuration.Rules;

// Class C can ask for less power but cannot remove it. It may enforce only where the site file names the hardwired
// device that does, and only until a date: a statement without an end is forgotten.

/// <summary>Enforcing needs a final element that removes power, or a named hardwired device that does.</summary>
internal static class FinalElementRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (UnitDraft unit in site.Units)
        {
            if (unit.Enforces && unit.FinalElement == FinalElementClass.SetpointOnly && !unit.Section.Has("hardwiredDevice"))
            {
                faults.Add(unit.Section.At("finalElement"), "final element class C cannot remove power, so it may not enforce on its own", "no \"hardwiredDevice\"", "\"hardwiredDevice\" with name and expiry", "\"hardwiredDevice\": { \"name\": \"…\", \"expires\": \"YYYY-MM-DD\" }, or \"mode\": \"observe\"");
            }

            if (unit.HardwiredDevice.Date("expires") is { } expires && expires <= site.Today)
            {
                faults.Add(unit.HardwiredDevice.At("expires"), "the statement about the hardwired device has expired", $"{expires:yyyy-MM-dd}", $"a date after {site.Today:yyyy-MM-dd}", "to inspect the device again and state a new date");
            }
        }
    }
}
