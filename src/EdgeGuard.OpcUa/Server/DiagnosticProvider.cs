using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.OpcUa.Server;

/// <summary>Makes the value of one variable of a session or subscription from the structure that tells all of it.</summary>
/// <param name="source">The structure now.</param>
/// <param name="read">What this variable shows of it.</param>
internal sealed class DiagnosticProvider<T>(Func<T> source, Func<T, Variant> read) : IValueProvider
{
    public DataValue Read(CallerContext caller, UaDateTime now) => new(read(source()), StatusCode.Good, now);
}
