using EdgeGuard.Modbus.Security;

namespace EdgeGuard.Modbus.Transports;

/// <summary>What a Modbus TCP link has to know about its peer.</summary>
public sealed record TcpModbusLinkOptions
{
    /// <summary>
    /// True for a device that answers with transaction id 0 whatever it was asked. Such an answer is known by unit,
    /// function, length and echo alone; leave it off for any device that does not need it.
    /// </summary>
    public bool AcceptsZeroTransactionId { get; init; }

    /// <summary>Modbus/TCP Security: TLS with certificates on both sides, usually on port 802; null for plain Modbus TCP.</summary>
    public ModbusTlsOptions? Security { get; init; }
}
