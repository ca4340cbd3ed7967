using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Rules;

// A vote needs its sensors, and a further sensor needs a vote: a second thermocouple that is wired and judged by nobody
// would be taken for protection.

/// <summary>Voting and the sensors it needs.</summary>
internal static class RedundancyRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (UnitDraft unit in site.Units.Where(u => u.BindingComplete))
        {
            foreach ((string key, SignalRole role) in UnitDraft.VotedRoles)
            {
                CheckRole(unit, key, role, faults);
            }
        }
    }

    private static void CheckRole(UnitDraft unit, string key, SignalRole role, FaultList faults)
    {
        string? scheme = unit.Voting.Text(key);
        int needed = scheme is null ? 1 : scheme is "2oo3" ? 3 : 2;
        for (int sensor = 2; sensor <= 3; sensor++)
        {
            SignalRole further = SignalRoles.Sensor(role, sensor);
            string name = RoleFacts.Of(further).Name;
            bool bound = unit.BoundSignals.ContainsKey(further);
            if (sensor <= needed && !bound)
            {
                faults.Add(unit.Voting.At(key), $"the vote {scheme} lacks a sensor", $"no point with role \"{name}\"", $"{needed} sensors", $"to bind \"{name}\", or another vote");
            }

            if (sensor > needed && bound && (scheme is not null || !unit.Voting.Has(key)))
            {
                faults.Add(unit.Section.Place, "a further sensor takes part in no vote", $"a point with role \"{name}\" and {(scheme is null ? "no vote" : $"the vote {scheme}")}", $"\"voting\": {{ \"{key}\": … }} with all sensors", "to state the vote, or the role \"record\" for the point");
            }
        }
    }
}
