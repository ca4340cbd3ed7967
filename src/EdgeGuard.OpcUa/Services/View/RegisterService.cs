using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Services;

/// <summary>
/// RegisterNodes and UnregisterNodes (OPC 10000-4, 5.9.5 and 5.9.6). Nodes are found by a hash in any case, so a client
/// gets back what it sent; like the standard, this does not look whether a node exists.
/// </summary>
public static class RegisterService
{
    /// <summary>The same NodeIds again.</summary>
    public static IServiceResponse Register(in ServiceContext context, RegisterNodesRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        StatusCode status = Judge(request.NodesToRegister, context.Limits);
        return status.IsBad() ? context.Fault(request, status)
            : new RegisterNodesResponse { ResponseHeader = context.Header(request), RegisteredNodeIds = request.NodesToRegister };
    }

    /// <summary>Nothing to free.</summary>
    public static IServiceResponse Unregister(in ServiceContext context, UnregisterNodesRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        StatusCode status = Judge(request.NodesToUnregister, context.Limits);
        return status.IsBad() ? context.Fault(request, status) : new UnregisterNodesResponse { ResponseHeader = context.Header(request) };
    }

    private static StatusCode Judge(NodeId[]? nodes, OperationLimits limits)
    {
        StatusCode status = OperationLimits.Judge(nodes?.Length, limits.NodesPerRegisterNodes);
        return status.IsGood() && Array.Exists(nodes!, node => node.IsNull) ? StatusCode.BadNodeIdInvalid : status;
    }
}
