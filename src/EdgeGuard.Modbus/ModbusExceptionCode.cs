namespace EdgeGuard.Modbus;

/// <summary>Exception codes (Application Protocol V1.1b3, section 7; codes 05 to 0B from memory).</summary>
public enum ModbusExceptionCode : byte
{
    /// <summary>No exception.</summary>
    None = 0,

    /// <summary>The function is not supported.</summary>
    IllegalFunction = 0x01,

    /// <summary>The address, or address plus quantity, does not exist.</summary>
    IllegalDataAddress = 0x02,

    /// <summary>The quantity or the value is not allowed.</summary>
    IllegalDataValue = 0x03,

    /// <summary>The device failed while it acted.</summary>
    ServerDeviceFailure = 0x04,

    /// <summary>Accepted, takes long.</summary>
    Acknowledge = 0x05,

    /// <summary>Busy with a long command.</summary>
    ServerDeviceBusy = 0x06,

    /// <summary>Parity error in extended memory.</summary>
    MemoryParityError = 0x08,

    /// <summary>The gateway has no path to the device.</summary>
    GatewayPathUnavailable = 0x0A,

    /// <summary>The device behind the gateway did not answer.</summary>
    GatewayTargetFailedToRespond = 0x0B,
}
