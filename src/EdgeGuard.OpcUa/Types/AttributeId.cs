namespace EdgeGuard.OpcUa;

/// <summary>Identifiers of the attributes of nodes (OPC 10000-6, annex A.1).</summary>
public enum AttributeId : uint
{
    /// <summary>No attribute; never valid in a request.</summary>
    None = 0,

    /// <summary>Node Id.</summary>
    NodeId = 1,

    /// <summary>Node Class.</summary>
    NodeClass = 2,

    /// <summary>Browse Name.</summary>
    BrowseName = 3,

    /// <summary>Display Name.</summary>
    DisplayName = 4,

    /// <summary>Description.</summary>
    Description = 5,

    /// <summary>Write Mask.</summary>
    WriteMask = 6,

    /// <summary>User Write Mask.</summary>
    UserWriteMask = 7,

    /// <summary>Is Abstract.</summary>
    IsAbstract = 8,

    /// <summary>Symmetric.</summary>
    Symmetric = 9,

    /// <summary>Inverse Name.</summary>
    InverseName = 10,

    /// <summary>Contains No Loops.</summary>
    ContainsNoLoops = 11,

    /// <summary>Event Notifier.</summary>
    EventNotifier = 12,

    /// <summary>Value.</summary>
    Value = 13,

    /// <summary>Data Type.</summary>
    DataType = 14,

    /// <summary>Value Rank.</summary>
    ValueRank = 15,

    /// <summary>Array Dimensions.</summary>
    ArrayDimensions = 16,

    /// <summary>Access Level.</summary>
    AccessLevel = 17,

    /// <summary>User Access Level.</summary>
    UserAccessLevel = 18,

    /// <summary>Minimum Sampling Interval.</summary>
    MinimumSamplingInterval = 19,

    /// <summary>Historizing.</summary>
    Historizing = 20,

    /// <summary>Executable.</summary>
    Executable = 21,

    /// <summary>User Executable.</summary>
    UserExecutable = 22,

    /// <summary>Data Type Definition.</summary>
    DataTypeDefinition = 23,

    /// <summary>Role Permissions.</summary>
    RolePermissions = 24,

    /// <summary>User Role Permissions.</summary>
    UserRolePermissions = 25,

    /// <summary>Access Restrictions.</summary>
    AccessRestrictions = 26,

    /// <summary>Access Level Ex.</summary>
    AccessLevelEx = 27,
}
