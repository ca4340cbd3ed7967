using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>
/// Adds nodes of one namespace below others, with the properties the standard demands of each kind. A variable has the
/// status BadWaitingForInitialData until its first value is set.
/// </summary>
/// <param name="space">A space that holds the standard nodes.</param>
/// <param name="namespaceIndex">Index of the namespace of the new nodes.</param>
public sealed class SpaceBuilder(NodeSpace space, ushort namespaceIndex = 2)
{
    private readonly ReferenceTypeNode _organizes = space.Standard<ReferenceTypeNode>(StandardIds.Organizes);
    private readonly ReferenceTypeNode _hasComponent = space.Standard<ReferenceTypeNode>(StandardIds.HasComponent);
    private readonly ReferenceTypeNode _hasProperty = space.Standard<ReferenceTypeNode>(StandardIds.HasProperty);
    private readonly ReferenceTypeNode _hasTypeDefinition = space.Standard<ReferenceTypeNode>(StandardIds.HasTypeDefinition);

    /// <summary>The space that is being filled.</summary>
    public NodeSpace Space => space;

    /// <summary>The Objects folder.</summary>
    public ObjectNode Objects => space.Standard<ObjectNode>(StandardIds.ObjectsFolder);

    /// <summary>A folder below <paramref name="parent"/>.</summary>
    public ObjectNode AddFolder(Node parent, string id, string name, string? description = null) =>
        AddObject(parent, id, name, new NodeId(StandardIds.FolderType), description);

    /// <summary>An object of a type: organised by a folder, a component of everything else.</summary>
    public ObjectNode AddObject(Node parent, string id, string name, NodeId typeDefinition, string? description = null, byte eventNotifier = 0)
    {
        var node = new ObjectNode(Id(id), Name(name), new LocalizedText(name)) { Description = new LocalizedText(description), EventNotifier = eventNotifier };
        return Place(parent, node, typeDefinition);
    }

    /// <summary>A variable of type BaseDataVariableType, or of another one.</summary>
    public VariableNode AddVariable(Node parent, VariableSpec spec, uint typeDefinition = StandardIds.BaseDataVariableType)
    {
        ArgumentNullException.ThrowIfNull(spec);
        var node = new VariableNode(Id(spec.Id), Name(spec.Name), new LocalizedText(spec.Name))
        {
            Description = new LocalizedText(spec.Description),
            DataType = spec.DataType,
            ValueRank = spec.ValueRank,
            ArrayDimensions = spec.ValueRank > 0 ? new uint[spec.ValueRank] : null,
            AccessLevel = spec.WriteHandler is null ? AccessLevels.CurrentRead : AccessLevels.CurrentRead | AccessLevels.CurrentWrite,
            MinimumSamplingIntervalMs = spec.MinimumSamplingIntervalMs,
            WriteHandler = spec.WriteHandler,
            WriteRoles = spec.WriteRoles,
            Provider = spec.Provider,
        };
        node.Set(new DataValue(default, StatusCode.BadWaitingForInitialData, space.StartTime));
        Place(parent, node, new NodeId(typeDefinition));
        if (spec.Definition is not null)
        {
            AddProperty(node, "Definition", new NodeId(StandardIds.String), new Variant(spec.Definition));
        }

        return node;
    }

    /// <summary>
    /// A measured or computed number with its unit: AnalogUnitRangeType where <paramref name="low"/> and
    /// <paramref name="high"/> are given, else AnalogUnitType.
    /// </summary>
    /// <param name="parent">Object or folder above.</param>
    /// <param name="spec">The variable; its data type is a number.</param>
    /// <param name="unit">Sign of the unit, such as "kg/h"; see <see cref="UnitCodes"/>.</param>
    /// <param name="low">Low end of the range in normal operation, in that unit.</param>
    /// <param name="high">High end.</param>
    public VariableNode AddAnalog(Node parent, VariableSpec spec, string unit, double? low = null, double? high = null)
    {
        bool hasRange = low is not null && high is not null;
        VariableNode node = AddVariable(parent, spec, hasRange ? StandardIds.AnalogUnitRangeType : StandardIds.AnalogUnitType);
        AddProperty(node, "EngineeringUnits", new NodeId(StandardIds.EUInformation), new Variant(UnitCodes.FromSign(unit)));
        if (hasRange)
        {
            AddProperty(node, "EURange", new NodeId(StandardIds.Range), new Variant(new Messages.Range { Low = low!.Value, High = high!.Value }));
        }

        return node;
    }

    /// <summary>A Boolean with a text for each state (TwoStateDiscreteType).</summary>
    public VariableNode AddTwoState(Node parent, VariableSpec spec, string trueState, string falseState)
    {
        VariableNode node = AddVariable(parent, spec, StandardIds.TwoStateDiscreteType);
        AddProperty(node, "TrueState", new NodeId(StandardIds.LocalizedText), new Variant(new LocalizedText(trueState)));
        AddProperty(node, "FalseState", new NodeId(StandardIds.LocalizedText), new Variant(new LocalizedText(falseState)));
        return node;
    }

    /// <summary>An unsigned number that counts through texts from 0 (MultiStateDiscreteType with EnumStrings).</summary>
    public VariableNode AddMultiState(Node parent, VariableSpec spec, IReadOnlyList<string> texts)
    {
        VariableNode node = AddVariable(parent, spec, StandardIds.MultiStateDiscreteType);
        LocalizedText[] strings = [.. texts.Select(text => new LocalizedText(text))];
        AddProperty(node, "EnumStrings", new NodeId(StandardIds.LocalizedText), Variant.FromArray(BuiltInType.LocalizedText, strings), 1);
        return node;
    }

    /// <summary>A number with a text for each value (MultiStateValueDiscreteType with EnumValues and ValueAsText).</summary>
    public VariableNode AddMultiStateValues(Node parent, VariableSpec spec, IReadOnlyDictionary<long, string> texts)
    {
        ArgumentNullException.ThrowIfNull(texts);
        VariableNode node = AddVariable(parent, spec, StandardIds.MultiStateValueDiscreteType);
        KeyValuePair<long, string>[] ordered = [.. texts.OrderBy(pair => pair.Key)];
        ExtensionObject[] values = [.. ordered.Select(pair => new ExtensionObject(new EnumValueType { Value = pair.Key, DisplayName = new LocalizedText(pair.Value) }))];
        AddProperty(node, "EnumValues", new NodeId(StandardIds.EnumValueType), Variant.FromArray(BuiltInType.ExtensionObject, values), 1);
        VariableNode asText = AddProperty(node, "ValueAsText", new NodeId(StandardIds.LocalizedText), default);
        asText.Provider = new MultiStateTextProvider(node, ordered.ToDictionary(pair => pair.Key, pair => new Variant(new LocalizedText(pair.Value))));
        return node;
    }

    /// <summary>A property; its NodeId is that of its node, a slash and the name.</summary>
    public VariableNode AddProperty(Node parent, string name, NodeId dataType, Variant value, int valueRank = -1)
    {
        ArgumentNullException.ThrowIfNull(parent);
        var node = new VariableNode(Id($"{parent.NodeId.Text ?? parent.NodeId.ToString()}/{name}"), new QualifiedName(name), new LocalizedText(name))
        {
            DataType = dataType,
            ValueRank = valueRank,
            ArrayDimensions = valueRank > 0 ? new uint[valueRank] : null,
        };
        node.Set(value, space.StartTime);
        space.Add(node);
        space.AddReference(parent, _hasProperty, node);
        space.AddReference(node, _hasTypeDefinition, space.Standard<VariableTypeNode>(StandardIds.PropertyType));
        return node;
    }

    /// <summary>A method of an object. InputArguments and OutputArguments are absent when there are none.</summary>
    public MethodNode AddMethod(Node parent, string id, string name, MethodHandler handler, CallerRoles callRoles, IReadOnlyList<Argument> inputs, IReadOnlyList<Argument> outputs, string? description = null)
    {
        ArgumentNullException.ThrowIfNull(inputs);
        ArgumentNullException.ThrowIfNull(outputs);
        var node = new MethodNode(Id(id), Name(name), new LocalizedText(name)) { Handler = handler, CallRoles = callRoles, Description = new LocalizedText(description) };
        space.Add(node);
        space.AddReference(parent, _hasComponent, node);
        AddArguments(node, "InputArguments", inputs);
        AddArguments(node, "OutputArguments", outputs);
        return node;
    }

    /// <summary>A scalar argument of a method.</summary>
    public static Argument Scalar(string name, uint dataType, string description) => new()
    {
        Name = name,
        DataType = new NodeId(dataType),
        ValueRank = -1,
        Description = new LocalizedText(description),
    };

    private void AddArguments(MethodNode method, string property, IReadOnlyList<Argument> arguments)
    {
        if (arguments.Count > 0)
        {
            ExtensionObject[] objects = [.. arguments.Select(argument => new ExtensionObject(argument))];
            AddProperty(method, property, new NodeId(StandardIds.Argument), Variant.FromArray(BuiltInType.ExtensionObject, objects), 1);
        }
    }

    private T Place<T>(Node parent, T node, NodeId typeDefinition)
        where T : Node
    {
        ArgumentNullException.ThrowIfNull(parent);
        Node type = space.Find(typeDefinition) ?? throw new InvalidOperationException($"{node}: its type {typeDefinition} is not in the space");
        space.Add(node);
        bool isFolder = parent.TypeDefinition is { } kind && kind.NodeId.IsStandard(StandardIds.FolderType);
        space.AddReference(parent, isFolder ? _organizes : _hasComponent, node);
        space.AddReference(node, _hasTypeDefinition, type);
        return node;
    }

    private NodeId Id(string text) => new(namespaceIndex, text);

    private QualifiedName Name(string name) => new(namespaceIndex, name);
}
