using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Configuration.Maps;
using EdgeGuard.Service.Configuration.Schema;

namespace EdgeGuard.Service.Requests;

/// <summary>
/// The part of a request that only a force has: which signal, which value and for how long. Whether the site allows it is
/// for the core to decide; here stands only what can be a force at all.
/// </summary>
internal static class ForceReader
{
    /// <summary>What is wrong with signal, value and minutes of a request of this kind; null when nothing is.</summary>
    public static string? Fault(RequestMessage message, RequestKind kind)
    {
        bool forces = kind == RequestKind.Force;
        bool named = forces || kind == RequestKind.Unforce;
        if (named && SignalOf(message.Signal) is null)
        {
            return $"signal: found {RequestReader.Quote(message.Signal)}; expected one of {string.Join(", ", ForcibleRoles.All.Select(static r => r.Name))}";
        }

        if (!named && message.Signal is not null)
        {
            return $"signal: found {RequestReader.Quote(message.Signal)}; expected none, since only force and unforce name a signal";
        }

        if (forces && message.Value is not { } value)
        {
            return "value: found nothing; expected a number in the unit of the signal";
        }

        if (!forces && message.Value is not null)
        {
            return "value: found a number; expected none, since only a force has a value";
        }

        return forces && message.Minutes is not (>= 1 and <= RequestLimits.ForceMinutesMax)
            ? $"minutes: found {(message.Minutes is { } minutes ? minutes : "nothing")}; expected 1 to {RequestLimits.ForceMinutesMax}"
            : null;
    }

    /// <summary>The signal of a name; null for no or an unknown one. A signal that may never be forced is one all the same: the core refuses it, with its reason in the journal.</summary>
    public static SignalRole? SignalOf(string? name) => name is null ? null
        : RoleFacts.All.FirstOrDefault(r => string.Equals(r.Name, name, StringComparison.OrdinalIgnoreCase))?.Role;
}
