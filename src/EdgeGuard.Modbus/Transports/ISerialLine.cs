namespace EdgeGuard.Modbus.Transports;

/// <summary>
/// The seam to a line of bytes without frames: a serial port, or a TCP connection to a box that has one. Every call is
/// bounded by its time; reading and writing allocate nothing. Used by one thread.
/// </summary>
internal interface ISerialLine : IDisposable
{
    /// <summary>True between <see cref="Open"/> and <see cref="Close"/>.</summary>
    bool IsOpen { get; }

    /// <summary>Opens and sets up the line; what came before is dropped. Throws <see cref="LinkOpenException"/>.</summary>
    /// <param name="timeoutMs">Longest time it may take, ms.</param>
    void Open(int timeoutMs);

    /// <summary>Closes the line.</summary>
    void Close();

    /// <summary>Reads what has come, waiting up to <paramref name="timeoutMs"/> (0: not at all) for the first byte.</summary>
    /// <returns>Count of bytes; 0 when none came in time; −1 when the line is lost.</returns>
    int Read(Span<byte> buffer, int timeoutMs);

    /// <summary>Hands all bytes over for sending.</summary>
    /// <returns>True when taken in time; false when the line is lost or does not take them.</returns>
    bool Write(ReadOnlySpan<byte> bytes, int timeoutMs);
}
