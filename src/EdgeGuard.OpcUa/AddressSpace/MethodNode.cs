using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>A method. Without a handler it is part of a type or not in use, and not executable.</summary>
public sealed class MethodNode : Node
{
    private Argument[]? _inputs;
    private Argument[]? _outputs;

    /// <summary>A node without references.</summary>
    public MethodNode(NodeId nodeId, QualifiedName browseName, LocalizedText displayName)
        : base(nodeId, browseName, displayName)
    {
    }

    /// <inheritdoc/>
    public override NodeClass NodeClass => NodeClass.Method;

    /// <summary>What is carried out; set before the server starts.</summary>
    public MethodHandler? Handler { get; set; }

    /// <summary>Told of calls that are refused before the handler is asked; must not wait. Null for nobody. Set before the server starts.</summary>
    public Action<CallerContext, StatusCode>? Refused { get; set; }

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

    /// <summary>Declared input arguments, from the property of that name; empty when there is none.</summary>
    public IReadOnlyList<Argument> InputArguments => _inputs ??= ReadArguments("InputArguments");

    /// <summary>Declared output arguments, from the property of that name; empty when there is none.</summary>
    public IReadOnlyList<Argument> OutputArguments => _outputs ??= ReadArguments("OutputArguments");

    private Argument[] ReadArguments(string property)
    {
        foreach (Reference reference in References)
        {
            if (reference is { IsForward: true, Target: VariableNode variable } && variable.BrowseName == new QualifiedName(property))
            {
                variable.Sample(out DataValue value);
                return Decode(value.Value.Elements as ExtensionObject[] ?? []);
            }
        }

        return [];
    }

    private static Argument[] Decode(ExtensionObject[] objects)
    {
        var arguments = new Argument[objects.Length];
        for (int i = 0; i < objects.Length; i++)
        {
            arguments[i] = objects[i].TryDecode(UaLimits.Default, out Argument? argument).IsGood() ? argument! : new Argument();
        }

        return arguments;
    }
}
