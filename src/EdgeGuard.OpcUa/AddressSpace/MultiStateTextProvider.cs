namespace EdgeGuard.OpcUa.AddressSpace;

// ValueAsText of a MultiStateValueDiscreteType: the text of the number the variable has now, with its status and time.
internal sealed class MultiStateTextProvider(VariableNode variable, IReadOnlyDictionary<long, Variant> texts) : IValueProvider
{
    public DataValue Read(CallerContext caller, UaDateTime now)
    {
        DataValue value = variable.Current(caller, now);
        Variant text = texts.TryGetValue(value.Value.AsInteger, out Variant known) ? known : new Variant(new LocalizedText(null, null));
        return value with { Value = value.Value.IsNull ? default : text };
    }
}
