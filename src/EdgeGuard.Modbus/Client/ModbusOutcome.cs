namespace EdgeGuard.Modbus.Client;

/// <summary>Outcome of one client transaction. Zero is never good.</summary>
public enum ModbusOutcome : byte
{
    /// <summary>Nothing happened.</summary>
    None = 0,

    /// <summary>The answer matches the request.</summary>
    Good = 1,

    /// <summary>No matching answer within the deadline; the connection must be closed.</summary>
    Timeout = 2,

    /// <summary>The device answered with an exception code.</summary>
    DeviceException = 3,

    /// <summary>An answer with the right transaction id does not fit the request; the connection must be closed.</summary>
    BadAnswer = 4,

    /// <summary>There is no connection.</summary>
    NotConnected = 5,

    /// <summary>The connection broke during the transaction.</summary>
    ConnectionLost = 6,

    /// <summary>A broadcast was sent; nobody answers one, so nothing is known of its effect.</summary>
    BroadcastSent = 7,
}
