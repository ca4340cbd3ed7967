namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>A provider made of a function of the time.</summary>
/// <param name="read">The value at a time; must be safe for many threads.</param>
public sealed class ValueProvider(Func<UaDateTime, DataValue> read) : IValueProvider
{
    /// <inheritdoc/>
    public DataValue Read(CallerContext caller, UaDateTime now) => read(now);
}
