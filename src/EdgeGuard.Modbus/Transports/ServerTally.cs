using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Modbus.Transports;

/// <summary>The running counters of a server: written by its threads, read by any.</summary>
internal sealed class ServerTally
{
    private long _connections;
    private long _connectionsRefused;
    private long _connectionsClosed;
    private long _answered;
    private long _refused;
    private long _discarded;
    private long _broadcasts;
    private long _malformed;

    public void ConnectionTaken() => Interlocked.Increment(ref _connections);

    public void ConnectionRefused() => Interlocked.Increment(ref _connectionsRefused);

    public void ConnectionClosed() => Interlocked.Increment(ref _connectionsClosed);

    public void Processed(ServerStatus status)
    {
        switch (status)
        {
            case ServerStatus.Answered:
                Interlocked.Increment(ref _answered);
                break;
            case ServerStatus.Refused:
                Interlocked.Increment(ref _refused);
                break;
            case ServerStatus.Discarded:
                Interlocked.Increment(ref _discarded);
                break;
            case ServerStatus.Broadcast:
                Interlocked.Increment(ref _broadcasts);
                break;
            case ServerStatus.Broken:
                Interlocked.Increment(ref _malformed);
                break;
            default:
                break;
        }
    }

    public ServerCounters Snapshot() => new(
        Interlocked.Read(ref _connections),
        Interlocked.Read(ref _connectionsRefused),
        Interlocked.Read(ref _connectionsClosed),
        Interlocked.Read(ref _answered),
        Interlocked.Read(ref _refused),
        Interlocked.Read(ref _discarded))
    {
        Broadcasts = Interlocked.Read(ref _broadcasts),
        Malformed = Interlocked.Read(ref _malformed),
    };
}
