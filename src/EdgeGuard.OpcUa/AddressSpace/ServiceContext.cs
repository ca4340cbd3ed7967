using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>What a service function of the address space needs beside its request.</summary>
/// <param name="Space">The nodes.</param>
/// <param name="Caller">Who asks.</param>
/// <param name="Now">Wall clock at the request; stands in headers and server timestamps.</param>
/// <param name="Limits">Limits to obey.</param>
public readonly record struct ServiceContext(NodeSpace Space, CallerContext Caller, UaDateTime Now, OperationLimits Limits)
{
    /// <summary>Header of the answer to <paramref name="request"/>.</summary>
    public ResponseHeader Header(IServiceRequest request, StatusCode result = StatusCode.Good) => new()
    {
        Timestamp = Now,
        RequestHandle = request.RequestHeader.RequestHandle,
        ServiceResult = result,
    };

    /// <summary>Refusal of a whole service.</summary>
    public ServiceFault Fault(IServiceRequest request, StatusCode result) => new() { ResponseHeader = Header(request, result) };
}
