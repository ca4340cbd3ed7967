using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Schema;

/// <summary>The keys under `force` that let a signal be forced: the name of its role, for each that may be at all.</summary>
internal static class ForcibleRoles
{
    public static readonly IReadOnlyList<RoleFact> All = [.. RoleFacts.All.Where(static r => SignalRoles.MayBeForced(r.Role))];
}
