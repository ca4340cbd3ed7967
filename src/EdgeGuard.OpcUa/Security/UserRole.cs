namespace EdgeGuard.OpcUa.Security;

/// <summary>What a named user may do; the zero value may nothing.</summary>
public enum UserRole
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>Look.</summary>
    Observer,

    /// <summary>Look, acknowledge, start and stop.</summary>
    Operator,

    /// <summary>All an operator may, bypass and change settings.</summary>
    Engineer,
}
