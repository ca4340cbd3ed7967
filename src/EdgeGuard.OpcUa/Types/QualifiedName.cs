namespace EdgeGuard.OpcUa;

/// <summary>A name qualified by a namespace (OPC 10000-3); the default value is the null name.</summary>
/// <param name="NamespaceIndex">Index into the NamespaceArray.</param>
/// <param name="Name">The name, at most 512 characters by the standard; null for no name.</param>
public readonly record struct QualifiedName(ushort NamespaceIndex, string? Name)
{
    /// <summary>A name of namespace 0.</summary>
    public QualifiedName(string? name)
        : this(0, name)
    {
    }

    /// <summary>Whether there is no name.</summary>
    public bool IsNull => NamespaceIndex == 0 && string.IsNullOrEmpty(Name);
}
