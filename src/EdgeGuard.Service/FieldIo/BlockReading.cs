using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.FieldIo;

/// <summary>One state of a poll block, as the worker hands it to the scan.</summary>
public sealed class BlockReading
{
    /// <summary>Allocates the words of the block.</summary>
    public BlockReading(int wordCount) => Words = new ushort[wordCount];

    /// <summary>Outcome of the latest request.</summary>
    public ReadResult Result { get; internal set; }

    /// <summary>Modbus exception code of the latest request, 0 when none.</summary>
    public byte ExceptionCode { get; internal set; }

    /// <summary>Counts good reads.</summary>
    public uint ReadCount { get; internal set; }

    /// <summary>When the request of the latest good read was sent, µs; the value cannot be older than the age from here.</summary>
    public long SentUs { get; internal set; }

    /// <summary>Words of the latest good read.</summary>
    public ushort[] Words { get; }

    internal void CopyFrom(BlockReading other)
    {
        Result = other.Result;
        ExceptionCode = other.ExceptionCode;
        ReadCount = other.ReadCount;
        SentUs = other.SentUs;
        other.Words.CopyTo(Words, 0);
    }
}
