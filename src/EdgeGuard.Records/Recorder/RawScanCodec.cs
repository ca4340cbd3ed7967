using System.Buffers.Binary;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Records.Recorder;

/// <summary>
/// Puts one scan's whole input into bytes and back, and copies one scan into another. Little-endian, fixed size for a
/// given site, so a recorded scan costs its words and a few bytes beside them.
/// </summary>
public static class RawScanCodec
{
    private const int FixedBytes = 8 + 8 + 1 + 1 + 8 + 4 + 4;
    private const int BlockBytes = 1 + 1 + 4 + 4;
    private const int RequestBytes = 1 + 1 + 8 + 1 + 2 + 1 + 8;

    /// <summary>Bytes of a scan of this shape.</summary>
    /// <param name="shape">Any scan of the site.</param>
    public static int Size(RawScan shape)
    {
        ArgumentNullException.ThrowIfNull(shape);
        int size = FixedBytes + (shape.Requests.Length * RequestBytes) + shape.Feedback.Length;
        for (int b = 0; b < shape.Blocks.Length; b++)
        {
            size += BlockBytes + (shape.Blocks[b].Words.Length * sizeof(ushort));
        }

        return size;
    }

    /// <summary>Copies a scan into another of the same shape; allocates nothing.</summary>
    /// <param name="from">Source.</param>
    /// <param name="to">Target.</param>
    public static void Copy(RawScan from, RawScan to)
    {
        ArgumentNullException.ThrowIfNull(from);
        ArgumentNullException.ThrowIfNull(to);
        to.Scan = from.Scan;
        to.UtcUnixMs = from.UtcUnixMs;
        to.Clock = from.Clock;
        to.Journal = from.Journal;
        to.DurableEvent = from.DurableEvent;
        to.GapMs = from.GapMs;
        to.SkippedScans = from.SkippedScans;
        for (int b = 0; b < from.Blocks.Length; b++)
        {
            ref RawBlock source = ref from.Blocks[b];
            ref RawBlock target = ref to.Blocks[b];
            target.Result = source.Result;
            target.ExceptionCode = source.ExceptionCode;
            target.AgeMs = source.AgeMs;
            target.ReadCount = source.ReadCount;
            source.Words.AsSpan().CopyTo(target.Words);
        }

        from.Requests.AsSpan().CopyTo(to.Requests);
        from.Feedback.AsSpan().CopyTo(to.Feedback);
    }

    /// <summary>Encodes a scan; allocates nothing.</summary>
    /// <param name="scan">The scan.</param>
    /// <param name="bytes">At least <see cref="Size"/> bytes.</param>
    public static void Encode(RawScan scan, Span<byte> bytes)
    {
        ArgumentNullException.ThrowIfNull(scan);
        BinaryPrimitives.WriteInt64LittleEndian(bytes, scan.Scan);
        BinaryPrimitives.WriteInt64LittleEndian(bytes[8..], scan.UtcUnixMs);
        bytes[16] = (byte)scan.Clock;
        bytes[17] = (byte)scan.Journal;
        BinaryPrimitives.WriteInt64LittleEndian(bytes[18..], scan.DurableEvent);
        BinaryPrimitives.WriteInt32LittleEndian(bytes[26..], scan.GapMs);
        BinaryPrimitives.WriteInt32LittleEndian(bytes[30..], scan.SkippedScans);
        Span<byte> rest = bytes[FixedBytes..];
        for (int b = 0; b < scan.Blocks.Length; b++)
        {
            rest = EncodeBlock(scan.Blocks[b], rest);
        }

        for (int u = 0; u < scan.Requests.Length; u++)
        {
            rest[0] = (byte)scan.Requests[u].Kind;
            rest[1] = scan.Requests[u].Remote ? (byte)1 : (byte)0;
            BinaryPrimitives.WriteInt64LittleEndian(rest[2..], scan.Requests[u].Id);
            rest[10] = (byte)scan.Requests[u].Function;
            BinaryPrimitives.WriteUInt16LittleEndian(rest[11..], scan.Requests[u].Minutes);
            rest[13] = (byte)scan.Requests[u].Signal;
            BinaryPrimitives.WriteDoubleLittleEndian(rest[14..], scan.Requests[u].Value);
            rest = rest[RequestBytes..];
        }

        for (int f = 0; f < scan.Feedback.Length; f++)
        {
            rest[f] = (byte)scan.Feedback[f];
        }
    }

    /// <summary>Decodes a scan into one of the right shape.</summary>
    /// <param name="bytes">Exactly <see cref="Size"/> bytes.</param>
    /// <param name="scan">Filled.</param>
    public static void Decode(ReadOnlySpan<byte> bytes, RawScan scan)
    {
        ArgumentNullException.ThrowIfNull(scan);
        scan.Scan = BinaryPrimitives.ReadInt64LittleEndian(bytes);
        scan.UtcUnixMs = BinaryPrimitives.ReadInt64LittleEndian(bytes[8..]);
        scan.Clock = (ClockQuality)bytes[16];
        scan.Journal = (JournalHealth)bytes[17];
        scan.DurableEvent = BinaryPrimitives.ReadInt64LittleEndian(bytes[18..]);
        scan.GapMs = BinaryPrimitives.ReadInt32LittleEndian(bytes[26..]);
        scan.SkippedScans = BinaryPrimitives.ReadInt32LittleEndian(bytes[30..]);
        ReadOnlySpan<byte> rest = bytes[FixedBytes..];
        for (int b = 0; b < scan.Blocks.Length; b++)
        {
            rest = DecodeBlock(rest, ref scan.Blocks[b]);
        }

        for (int u = 0; u < scan.Requests.Length; u++)
        {
            scan.Requests[u].Kind = (RequestKind)rest[0];
            scan.Requests[u].Remote = rest[1] != 0;
            scan.Requests[u].Id = BinaryPrimitives.ReadInt64LittleEndian(rest[2..]);
            scan.Requests[u].Function = (Core.Interlocks.FunctionId)rest[10];
            scan.Requests[u].Minutes = BinaryPrimitives.ReadUInt16LittleEndian(rest[11..]);
            scan.Requests[u].Signal = (SignalRole)rest[13];
            scan.Requests[u].Value = BinaryPrimitives.ReadDoubleLittleEndian(rest[14..]);
            rest = rest[RequestBytes..];
        }

        for (int f = 0; f < scan.Feedback.Length; f++)
        {
            scan.Feedback[f] = (CommandFeedback)rest[f];
        }
    }

    private static Span<byte> EncodeBlock(in RawBlock block, Span<byte> bytes)
    {
        bytes[0] = (byte)block.Result;
        bytes[1] = block.ExceptionCode;
        BinaryPrimitives.WriteInt32LittleEndian(bytes[2..], block.AgeMs);
        BinaryPrimitives.WriteUInt32LittleEndian(bytes[6..], block.ReadCount);
        for (int w = 0; w < block.Words.Length; w++)
        {
            BinaryPrimitives.WriteUInt16LittleEndian(bytes[(BlockBytes + (w * 2))..], block.Words[w]);
        }

        return bytes[(BlockBytes + (block.Words.Length * 2))..];
    }

    private static ReadOnlySpan<byte> DecodeBlock(ReadOnlySpan<byte> bytes, ref RawBlock block)
    {
        block.Result = (ReadResult)bytes[0];
        block.ExceptionCode = bytes[1];
        block.AgeMs = BinaryPrimitives.ReadInt32LittleEndian(bytes[2..]);
        block.ReadCount = BinaryPrimitives.ReadUInt32LittleEndian(bytes[6..]);
        for (int w = 0; w < block.Words.Length; w++)
        {
            block.Words[w] = BinaryPrimitives.ReadUInt16LittleEndian(bytes[(BlockBytes + (w * 2))..]);
        }

        return bytes[(BlockBytes + (block.Words.Length * 2))..];
    }
}
