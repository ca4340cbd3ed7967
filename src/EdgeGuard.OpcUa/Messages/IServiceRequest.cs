namespace EdgeGuard.OpcUa.Messages;

/// <summary>A request of a service set (OPC 10000-4).</summary>
public interface IServiceRequest : IUaStructure
{
    /// <summary>Session, handle, time-out and diagnostics asked for.</summary>
    RequestHeader RequestHeader { get; set; }
}
