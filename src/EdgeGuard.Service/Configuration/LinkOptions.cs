using EdgeGuard.Modbus.Security;

namespace EdgeGuard.Service.Configuration;

/// <summary>Settings of one link.</summary>
public sealed record LinkOptions
{
    /// <summary>Name of the link.</summary>
    public required string Name { get; init; }

    /// <summary>How it carries Modbus.</summary>
    public LinkTransport Transport { get; init; } = LinkTransport.Tcp;

    /// <summary>Host name or address; empty for a serial line.</summary>
    public required string Host { get; init; }

    /// <summary>TCP port, 1 to 65535; without meaning for a serial line.</summary>
    public required int Port { get; init; }

    /// <summary>Name of the serial port, as /dev/ttyUSB0 or COM3; empty unless the transport is serial.</summary>
    public string SerialPort { get; init; } = string.Empty;

    /// <summary>Rate of the serial line, of this machine or behind the gateway, baud; 0 when there is none or it is not stated.</summary>
    public int Baud { get; init; }

    /// <summary>Parity of the serial line.</summary>
    public LineParity Parity { get; init; }

    /// <summary>Stop bits of the serial line, 1 or 2.</summary>
    public int StopBits { get; init; } = 1;

    /// <summary>Time-out of connecting, ms.</summary>
    public required int ConnectMs { get; init; }

    /// <summary>Time-out of one answer, ms.</summary>
    public required int AnswerMs { get; init; }

    /// <summary>Polling starts this long before the scan, ms; shorter than the scan period.</summary>
    public required int PollLeadMs { get; init; }

    /// <summary>First wait between two attempts to connect, ms; doubles with jitter up to the cap.</summary>
    public int ReconnectMinMs { get; init; } = 100;

    /// <summary>Longest wait between two attempts to connect, ms.</summary>
    public int ReconnectMaxMs { get; init; } = 2_000;

    /// <summary>Accept answers with transaction id 0, which some gateways send; a late answer is then told by less.</summary>
    public bool ZeroTransactionIds { get; init; }

    /// <summary>The adapter hears what it sends (two-wire lines), so each request is taken off the input again.</summary>
    public bool LocalEcho { get; init; }

    /// <summary>Modbus/TCP Security: who this side is and whom it trusts; null for a connection in the clear.</summary>
    public ModbusTlsOptions? Security { get; init; }

    /// <summary>Where the link leads, for people.</summary>
    public string Place => Transport == LinkTransport.Serial ? $"{SerialPort} at {Baud} baud" : $"{Host} port {Port}{(Security is null ? string.Empty : " with TLS")}";
}
