namespace EdgeGuard.OpcUa.AddressSpace;

// What readers see of a node's references. The array may be longer: the writer fills the place behind the last element
// before it publishes a list that is one longer, so readers of the older list never see it.
internal sealed class ReferenceList(Reference[] items, int count)
{
    public static readonly ReferenceList Empty = new([], 0);

    public int Count => count;

    public ReadOnlySpan<Reference> Items => items.AsSpan(0, count);

    // Only for the newest list of a node, under the lock of the space.
    public ReferenceList Append(in Reference reference)
    {
        Reference[] target = items;
        if (count == target.Length)
        {
            target = new Reference[Math.Max(4, count * 2)];
            items.AsSpan(0, count).CopyTo(target);
        }

        target[count] = reference;
        return new ReferenceList(target, count + 1);
    }

    public ReferenceList Without(Node target)
    {
        List<Reference> kept = new(count);
        foreach (Reference reference in Items)
        {
            if (!ReferenceEquals(reference.Target, target))
            {
                kept.Add(reference);
            }
        }

        return new ReferenceList([.. kept], kept.Count);
    }
}
