namespace EdgeGuard.Modbus.Security;

/// <summary>What a secured server needs beside: what each role may do.</summary>
public sealed record ModbusTlsServerOptions : ModbusTlsOptions
{
    /// <summary>Rights by role; a role that is not listed, and a client without one, has none.</summary>
    public required IReadOnlyDictionary<string, ModbusRight> Rights { get; init; }

    /// <summary>A client that has not finished the handshake after this is closed, ms, 1 to 60000.</summary>
    public int HandshakeTimeoutMs { get; init; } = 5_000;

    internal override void Validate()
    {
        base.Validate();
        ArgumentOutOfRangeException.ThrowIfLessThan(HandshakeTimeoutMs, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(HandshakeTimeoutMs, 60_000);
    }

    internal ModbusRight RightsOf(string? role) => role is null ? ModbusRight.None : Rights.GetValueOrDefault(role, ModbusRight.None);
}
