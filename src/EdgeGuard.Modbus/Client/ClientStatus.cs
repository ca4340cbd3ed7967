namespace EdgeGuard.Modbus.Client;

/// <summary>What became of the bytes given to <see cref="ModbusClientEngine.Take"/>. Zero is never good.</summary>
public enum ClientStatus : byte
{
    /// <summary>Nothing happened.</summary>
    None = 0,

    /// <summary>No whole frame yet; more bytes are needed.</summary>
    NeedMore = 1,

    /// <summary>An answer to an earlier transaction was dropped; look at the rest of the bytes.</summary>
    LateDropped = 2,

    /// <summary>The transaction has its answer: <see cref="ModbusClientEngine.Result"/>.</summary>
    Completed = 3,

    /// <summary>The stream cannot be trusted: close the connection. <see cref="ModbusClientEngine.Fault"/> says why.</summary>
    Broken = 4,
}
