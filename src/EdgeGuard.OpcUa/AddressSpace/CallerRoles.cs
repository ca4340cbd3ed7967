namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>
/// The well-known roles of OPC 10000-18 that a caller holds. A node names the roles that may read, write or call; one
/// common role is enough. Nobody holds a role by default.
/// </summary>
[Flags]
public enum CallerRoles
{
    /// <summary>No role: nothing is allowed.</summary>
    None = 0,

    /// <summary>Everybody, with or without a name.</summary>
    Anonymous = 0x01,

    /// <summary>Everybody who proved an identity.</summary>
    AuthenticatedUser = 0x02,

    /// <summary>May look, not touch.</summary>
    Observer = 0x04,

    /// <summary>May work the plant: acknowledge, start, stop.</summary>
    Operator = 0x08,

    /// <summary>May change settings.</summary>
    Engineer = 0x10,

    /// <summary>May work the plant and bypass.</summary>
    Supervisor = 0x20,

    /// <summary>May change the configuration that is not about security.</summary>
    ConfigureAdmin = 0x40,

    /// <summary>May change what is about security and see the diagnostics of other sessions.</summary>
    SecurityAdmin = 0x80,

    /// <summary>Any role at all.</summary>
    Any = 0xFF,
}
