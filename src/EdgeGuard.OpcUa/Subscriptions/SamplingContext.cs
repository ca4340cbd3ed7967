using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Services;

namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>What sampling needs beside the item.</summary>
/// <param name="Space">The nodes.</param>
/// <param name="Limits">Limits of services.</param>
/// <param name="Now">Wall clock; stands in server timestamps.</param>
internal readonly record struct SamplingContext(NodeSpace Space, OperationLimits Limits, UaDateTime Now)
{
    /// <summary>Reads like a client would, with both timestamps.</summary>
    public DataValue Read(in ReadValueId target, CallerContext caller) => AttributeReader.Read(new ServiceContext(Space, caller, Now, Limits), target);

    /// <summary>A stored value with both timestamps, and without a value when its status is Bad.</summary>
    public DataValue Stamp(in DataValue value) => AttributeReader.Stamp(new ServiceContext(Space, CallerContext.AnonymousReader, Now, Limits), value);
}
