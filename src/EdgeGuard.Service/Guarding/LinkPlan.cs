using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Guarding;

/// <summary>One link and where it goes.</summary>
/// <param name="Table">What is polled and written.</param>
/// <param name="Host">Address or host name; empty for a serial line.</param>
/// <param name="Port">TCP port, 1 to 65535.</param>
public sealed record LinkPlan(LinkTable Table, string Host, int Port)
{
    /// <summary>Transport and line settings; null means Modbus TCP.</summary>
    public LinkOptions? Options { get; init; }
}
