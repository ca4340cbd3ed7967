using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Server;

/// <summary>A service that failed as a whole.</summary>
internal static class Fault
{
    public static ServiceFault Of(StatusCode status) => new() { ResponseHeader = new ResponseHeader { ServiceResult = status } };
}
