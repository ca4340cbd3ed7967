namespace EdgeGuard.OpcUa.Messages;

/// <summary>A response of a service set (OPC 10000-4).</summary>
public interface IServiceResponse : IUaStructure
{
    /// <summary>Handle of the request, result of the service, diagnostics.</summary>
    ResponseHeader ResponseHeader { get; set; }
}
