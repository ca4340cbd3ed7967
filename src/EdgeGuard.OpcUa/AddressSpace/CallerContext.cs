namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>Who asks: fixed when a session is activated, handed to every service, provider and method.</summary>
public sealed record CallerContext
{
    /// <summary>A caller without a name who may look.</summary>
    public static CallerContext AnonymousReader { get; } = new() { Roles = CallerRoles.Anonymous };

    /// <summary>Roles held.</summary>
    public CallerRoles Roles { get; init; }

    /// <summary>Name of the user for the journal, or null for anonymous.</summary>
    public string? UserName { get; init; }

    /// <summary>NodeId of the session, null outside of one.</summary>
    public NodeId SessionId { get; init; }

    /// <summary>Name the client gave its session, for the journal.</summary>
    public string? SessionName { get; init; }

    /// <summary>Whether the caller holds one of <paramref name="roles"/>.</summary>
    public bool HasOneOf(CallerRoles roles) => (Roles & roles) != CallerRoles.None;
}
