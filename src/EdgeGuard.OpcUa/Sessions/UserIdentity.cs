using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Sessions;

/// <summary>Who works in a session. An anonymous user only reads.</summary>
/// <param name="Kind">How he proved it.</param>
/// <param name="Name">Name as it stands in the journal.</param>
/// <param name="Roles">What he may beyond reading.</param>
public sealed record UserIdentity(UserTokenType Kind, string Name, CallerRoles Roles)
{
    /// <summary>Nobody in particular.</summary>
    public static UserIdentity Anonymous { get; } = new(UserTokenType.Anonymous, "anonymous", CallerRoles.Anonymous);
}
