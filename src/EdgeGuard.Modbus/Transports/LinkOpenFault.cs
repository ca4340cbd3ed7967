namespace EdgeGuard.Modbus.Transports;

/// <summary>Why a link could not be opened. Zero is "not known", never a reason to go on.</summary>
public enum LinkOpenFault : byte
{
    /// <summary>Something else; the inner exception has it.</summary>
    Other = 0,

    /// <summary>TCP: the host is there and nothing listens on the port.</summary>
    Refused = 1,

    /// <summary>TCP: no answer before the time-out.</summary>
    TimedOut = 2,

    /// <summary>TCP: no route to the host or its network.</summary>
    Unreachable = 3,

    /// <summary>Serial: there is no such port.</summary>
    PortMissing = 4,

    /// <summary>Serial: another program has the port.</summary>
    PortInUse = 5,

    /// <summary>Serial: the account may not open the port.</summary>
    NoPermission = 6,

    /// <summary>Serial: the file is there and is not a serial port.</summary>
    NotASerialPort = 7,

    /// <summary>Serial: the port does not take the settings.</summary>
    SettingsRefused = 8,

    /// <summary>TLS: the peer is not one that is trusted, or does not trust this side.</summary>
    NotTrusted = 9,
}
