using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.OpcUa.Server;

/// <summary>
/// How a complex variable of the diagnostics is made: a variable of its type with one component for each that the type
/// declares, names and data types as there (OPC 10000-5, 7.12, 7.14, 7.16). The nodeset is asked once, at the start, and a
/// component for which there is no figure, or a figure without a component, stops the start.
/// </summary>
internal sealed class DiagnosticTemplate<T>
    where T : class, IUaStructure
{
    private readonly VariableTypeNode _type;
    private readonly ReferenceTypeNode _hasComponent;
    private readonly ReferenceTypeNode _hasTypeDefinition;
    private readonly (VariableNode Declared, Func<T, Variant> Read)[] _components;

    public DiagnosticTemplate(NodeSpace space, uint type, IReadOnlyDictionary<string, Func<T, Variant>> fields)
    {
        _type = space.Standard<VariableTypeNode>(type);
        _hasComponent = space.Standard<ReferenceTypeNode>(StandardIds.HasComponent);
        _hasTypeDefinition = space.Standard<ReferenceTypeNode>(StandardIds.HasTypeDefinition);
        _components = [.. Components(fields)];
        if (_components.Length != fields.Count)
        {
            throw new InvalidOperationException($"{_type} has {_components.Length} components and there are figures for {fields.Count}; the nodeset and the code disagree");
        }
    }

    /// <summary>Makes the variable and its components, ready to be placed, and adds them to <paramref name="made"/>.</summary>
    /// <param name="id">Text of its NodeId; those of the components go on with a slash and their name.</param>
    /// <param name="name">Its name.</param>
    /// <param name="roles">Who may read it and its components.</param>
    /// <param name="source">The figures.</param>
    /// <param name="holders">The nodes it is a component of.</param>
    /// <param name="made">Where the nodes go.</param>
    public VariableNode Make(string id, QualifiedName name, CallerRoles roles, Func<T> source, ReadOnlySpan<Node> holders, List<Node> made)
    {
        var root = new VariableNode(new NodeId(1, id), name, new LocalizedText(name.Name))
        {
            IsTransient = true,
            DataType = _type.DataType,
            ReadRoles = roles,
            Provider = new DiagnosticProvider<T>(source, static told => new Variant(told)),
        };
        var references = new Reference[1 + holders.Length + _components.Length];
        int at = 0;
        references[at++] = new Reference(_hasTypeDefinition, true, _type);
        foreach (Node holder in holders)
        {
            references[at++] = new Reference(_hasComponent, false, holder);
        }

        made.Add(root);
        foreach ((VariableNode declared, Func<T, Variant> read) in _components)
        {
            VariableNode component = Make(id, declared, roles, new DiagnosticProvider<T>(source, read));
            component.SetReferences([new Reference(_hasTypeDefinition, true, declared.TypeDefinition!), new Reference(_hasComponent, false, root)]);
            references[at++] = new Reference(_hasComponent, true, component);
            made.Add(component);
        }

        root.SetReferences(references);
        return root;
    }

    private static VariableNode Make(string id, VariableNode declared, CallerRoles roles, IValueProvider provider) =>
        new(new NodeId(1, $"{id}/{declared.BrowseName.Name}"), declared.BrowseName, declared.DisplayName)
        {
            IsTransient = true,
            DataType = declared.DataType,
            ValueRank = declared.ValueRank,
            ArrayDimensions = declared.ArrayDimensions,
            ReadRoles = roles,
            Provider = provider,
        };

    private IEnumerable<(VariableNode Declared, Func<T, Variant> Read)> Components(IReadOnlyDictionary<string, Func<T, Variant>> fields)
    {
        foreach (Reference reference in _type.ReferenceList.Items.ToArray())
        {
            if (reference is { IsForward: true, Target: VariableNode declared } && reference.Type.NodeId.IsStandard(StandardIds.HasComponent))
            {
                yield return fields.TryGetValue(declared.BrowseName.Name!, out Func<T, Variant>? read)
                    ? (declared, read)
                    : throw new InvalidOperationException($"{_type} has the component {declared} and there is no figure for it; the nodeset and the code disagree");
            }
        }
    }
}
