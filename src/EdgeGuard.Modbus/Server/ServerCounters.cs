namespace EdgeGuard.Modbus.Server;

/// <summary>What a server has seen since it was made.</summary>
/// <param name="Connections">Connections taken.</param>
/// <param name="ConnectionsRefused">Connections closed at once because the limit was reached.</param>
/// <param name="ConnectionsClosed">Connections closed by the server: not Modbus TCP, idle, stalled frame or client that does not read.</param>
/// <param name="Answered">Requests carried out.</param>
/// <param name="Refused">Requests answered with an exception.</param>
/// <param name="Discarded">Requests discarded without an answer.</param>
public readonly record struct ServerCounters(
    long Connections, long ConnectionsRefused, long ConnectionsClosed, long Answered, long Refused, long Discarded)
{
    /// <summary>Broadcasts carried out (serial lines).</summary>
    public long Broadcasts { get; init; }

    /// <summary>Receptions in which no frame was found: noise, a cut frame, a wrong CRC; over Modbus TCP each closed its connection.</summary>
    public long Malformed { get; init; }
}
