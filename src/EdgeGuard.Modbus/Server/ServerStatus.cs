namespace EdgeGuard.Modbus.Server;

/// <summary>What became of the bytes given to <see cref="ServerEngine.Process"/>. Zero is never good.</summary>
public enum ServerStatus : byte
{
    /// <summary>Nothing happened.</summary>
    None = 0,

    /// <summary>No whole frame yet.</summary>
    NeedMore = 1,

    /// <summary>A request was carried out and has a normal answer.</summary>
    Answered = 2,

    /// <summary>A request was refused with an exception answer.</summary>
    Refused = 3,

    /// <summary>A request was discarded without an answer.</summary>
    Discarded = 4,

    /// <summary>The stream is not Modbus TCP: close the connection.</summary>
    Broken = 5,

    /// <summary>A broadcast was carried out; nobody answers one.</summary>
    Broadcast = 6,
}
