namespace EdgeGuard.Service.Configuration.Schema;

/// <summary>The keys of one kind of object in the site file.</summary>
internal sealed record SectionSpec(string Name, IReadOnlyList<KeySpec> Keys)
{
    public KeySpec? Find(string name)
    {
        foreach (KeySpec key in Keys)
        {
            if (string.Equals(key.Name, name, StringComparison.Ordinal))
            {
                return key;
            }
        }

        return null;
    }
}
