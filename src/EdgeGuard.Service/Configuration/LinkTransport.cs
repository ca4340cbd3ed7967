namespace EdgeGuard.Service.Configuration;

/// <summary>How a link carries Modbus.</summary>
public enum LinkTransport
{
    /// <summary>Not configured.</summary>
    None = 0,

    /// <summary>Modbus TCP.</summary>
    Tcp = 1,

    /// <summary>RTU frames through a TCP connection, as serial device servers pass them on.</summary>
    RtuOverTcp = 2,

    /// <summary>RTU frames on a serial line of this machine.</summary>
    Serial = 3,
}
