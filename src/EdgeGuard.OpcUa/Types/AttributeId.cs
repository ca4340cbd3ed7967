namespace EdgeGuard.OpcUa;

/// <summary>Numbers of the attributes (OPC 10000-6, annex A.1).</summary>
public enum AttributeId : uint
{
    /// <summary>No attribute.</summary>
    None = 0,

    /// <summary>Identifier.</summary>
    NodeId = 1,

    /// <summary>Class as Int32.</summary>
    NodeClass = 2,

    /// <summary>Name for paths.</summary>
    BrowseName = 3,

    /// <summary>Name for people.</summary>
    DisplayName = 4,

    /// <summary>Explanation for people; optional.</summary>
    Description = 5,

    /// <summary>Which attributes can be written; always 0 here.</summary>
    WriteMask = 6,

    /// <summary>Which attributes this user can write; always 0 here.</summary>
    UserWriteMask = 7,

    /// <summary>Whether a type has no instances of its own.</summary>
    IsAbstract = 8,

    /// <summary>Whether a reference type reads the same both ways.</summary>
    Symmetric = 9,

    /// <summary>Name of a reference type read backwards.</summary>
    InverseName = 10,

    /// <summary>Whether a view has no loops.</summary>
    ContainsNoLoops = 11,

    /// <summary>Whether an object or view gives events or their history.</summary>
    EventNotifier = 12,

    /// <summary>Value of a variable or variable type.</summary>
    Value = 13,

    /// <summary>NodeId of the data type.</summary>
    DataType = 14,

    /// <summary>Scalar -1, any -2, scalar or one dimension -3, any number of dimensions 0, exactly n dimensions n.</summary>
    ValueRank = 15,

    /// <summary>Longest length of each dimension, 0 for any.</summary>
    ArrayDimensions = 16,

    /// <summary>What the variable allows.</summary>
    AccessLevel = 17,

    /// <summary>What the variable allows this user.</summary>
    UserAccessLevel = 18,

    /// <summary>Shortest sampling interval in milliseconds; -1 not known, 0 by exception.</summary>
    MinimumSamplingInterval = 19,

    /// <summary>Whether history is being collected.</summary>
    Historizing = 20,

    /// <summary>Whether a method can be called now.</summary>
    Executable = 21,

    /// <summary>Whether this user can call it now.</summary>
    UserExecutable = 22,

    /// <summary>Fields of a structure or enumeration.</summary>
    DataTypeDefinition = 23,

    /// <summary>Permissions by role; not supported.</summary>
    RolePermissions = 24,

    /// <summary>Permissions of this user; not supported.</summary>
    UserRolePermissions = 25,

    /// <summary>Restrictions of the channel; not supported.</summary>
    AccessRestrictions = 26,

    /// <summary>AccessLevel in 32 bits.</summary>
    AccessLevelEx = 27,
}
