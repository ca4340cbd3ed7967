namespace EdgeGuard.OpcUa.Transport;

/// <summary>
/// Joins the chunks of one message (OPC 10000-6, 6.7.3). Chunks of two messages do not interleave. Limits are checked
/// before a byte is kept, so a peer that sends chunks without end costs one message of memory.
/// </summary>
public sealed class MessageAssembler : IDisposable
{
    private readonly UaWriter _body;
    private int _chunkCountMax;
    private int _bytesMax;
    private int _chunks;
    private bool _complete;

    /// <summary>An empty assembler.</summary>
    public MessageAssembler(int bytesMax, int chunkCountMax)
    {
        _body = new UaWriter(bytesMax, startBytes: 1024);
        (_bytesMax, _chunkCountMax) = (bytesMax, chunkCountMax);
    }

    /// <summary>Request of the message being joined or just completed.</summary>
    public uint RequestId { get; private set; }

    /// <summary>Body of the completed message; valid until the next chunk.</summary>
    public ReadOnlySpan<byte> Body => _body.Written;

    /// <summary>Whether a message has begun and not ended.</summary>
    public bool InProgress => _chunks > 0 && !_complete;

    /// <summary>Tightens the limits after the handshake.</summary>
    public void Limit(int bytesMax, int chunkCountMax) => (_bytesMax, _chunkCountMax) = (Math.Min(bytesMax, _bytesMax), chunkCountMax);

    /// <summary>Takes a chunk's body. Good with <paramref name="complete"/> says whether the message is whole; an abort drops it.</summary>
    public StatusCode Add(ChunkKind kind, uint requestId, ReadOnlySpan<byte> body, out bool complete)
    {
        complete = false;
        if (InProgress && requestId != RequestId)
        {
            return StatusCode.BadTcpMessageTypeInvalid;
        }

        if (!InProgress)
        {
            Reset();
        }

        if (kind == ChunkKind.Abort)
        {
            Reset();
            return StatusCode.Good;
        }

        if (_chunks + 1 > _chunkCountMax || (long)_body.Length + body.Length > _bytesMax)
        {
            Reset();
            return StatusCode.BadTcpMessageTooLarge;
        }

        RequestId = requestId;
        _chunks++;
        _body.WriteBytes(body);
        complete = _complete = kind == ChunkKind.Final;
        return StatusCode.Good;
    }

    /// <summary>Gives the buffer back.</summary>
    public void Dispose() => _body.Dispose();

    private void Reset()
    {
        _body.Clear();
        (_chunks, _complete) = (0, false);
    }
}
