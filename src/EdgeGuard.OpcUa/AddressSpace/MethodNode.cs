using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>A method. Without a handler it is part of a type or not in use, and not executable.</summary>
public sealed class MethodNode : Node
{
    /// <summary>A node without references.</summary>
    public MethodNode(NodeId nodeId, QualifiedName browseName, LocalizedText displayName)
        : base(nodeId, browseName, displayName)
    {
    }

    /// <inheritdoc/>
    public override NodeClass NodeClass => NodeClass.Method;

    /// <summary>What is carried out; set before the server starts.</summary>
    public MethodHandler? Handler { get; set; }

    /// <summary>Roles that may call it.</summary>
    public CallerRoles CallRoles { get; set; } = CallerRoles.Any;

    /// <summary>The Executable attribute.</summary>
    public bool IsExecutable => Handler is not null;

    /// <summary>The UserExecutable attribute.</summary>
    public bool IsExecutableBy(CallerContext caller)
    {
        ArgumentNullException.ThrowIfNull(caller);
        return IsExecutable && caller.HasOneOf(CallRoles);
    }

    /// <summary>Declared input arguments; empty when there is no InputArguments property.</summary>
    public IReadOnlyList<Argument> InputArguments { get; init; } = [];

    /// <summary>Declared output arguments; empty when there is no OutputArguments property.</summary>
    public IReadOnlyList<Argument> OutputArguments { get; init; } = [];
}
