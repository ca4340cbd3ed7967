using System.Net.Sockets;

namespace EdgeGuard.Modbus.Transports;

/// <summary>A connection whose every call is bounded by a deadline.</summary>
internal interface IBoundedStream : IDisposable
{
    /// <summary>True when bytes are known to wait.</summary>
    bool HasReceived { get; }

    /// <summary>Receives what is there, waiting until the deadline for the first byte: count of bytes, 0 when none came, or <see cref="BoundedSocket.Lost"/>.</summary>
    int Receive(Span<byte> buffer, Deadline deadline);

    /// <summary>Sends everything before the deadline: Success, TimedOut when the peer does not take it, or why not.</summary>
    SocketError Send(ReadOnlySpan<byte> bytes, Deadline deadline);
}
