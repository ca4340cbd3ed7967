using EdgeGuard.Modbus.Security;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Modbus.Transports;

/// <summary>Limits of a server. Every one is a bound on what strangers on the network can hold.</summary>
public sealed record TcpModbusServerOptions
{
    /// <summary>Connections at one time, 1 to 256; one more is closed at once.</summary>
    public int MaxConnections { get; init; } = 16;

    /// <summary>A connection without a whole request for this long is closed; 1 ms to one day.</summary>
    public int IdleTimeoutMs { get; init; } = 60_000;

    /// <summary>A frame that is not whole this long after its first byte, or an answer not taken in this time, closes the connection; 1 ms to one minute.</summary>
    public int StalledFrameTimeoutMs { get; init; } = 1_000;

    /// <summary>What to do with a request for a unit the server does not have.</summary>
    public UnknownUnitReaction UnknownUnit { get; init; } = UnknownUnitReaction.AnswerGatewayPathUnavailable;

    /// <summary>True: RTU frames inside the connection, as behind a serial device server in raw mode, in place of Modbus TCP. Unknown units are then never answered.</summary>
    public bool IsRtuOverTcp { get; init; }

    /// <summary>Modbus/TCP Security: TLS with certificates on both sides and rights by role, usually on port 802; null for plain Modbus TCP.</summary>
    public ModbusTlsServerOptions? Security { get; init; }

    internal void Validate()
    {
        if (Security is not null && IsRtuOverTcp)
        {
            throw new ArgumentException("Modbus/TCP Security is Modbus TCP inside TLS, not RTU.", nameof(IsRtuOverTcp));
        }

        Security?.Validate();
        ArgumentOutOfRangeException.ThrowIfLessThan(MaxConnections, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(MaxConnections, 256);
        ArgumentOutOfRangeException.ThrowIfLessThan(IdleTimeoutMs, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(IdleTimeoutMs, 86_400_000);
        ArgumentOutOfRangeException.ThrowIfLessThan(StalledFrameTimeoutMs, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(StalledFrameTimeoutMs, 60_000);
    }
}
