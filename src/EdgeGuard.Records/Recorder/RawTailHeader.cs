using System.Buffers.Binary;
using System.Text;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Records.Recorder;

/// <summary>
/// First bytes of a recording: which run and configuration it belongs to and which shape a scan has, so that it can be
/// read without the site folder and never be replayed against another configuration unnoticed.
/// </summary>
public sealed record RawTailHeader
{
    private const int Version = 6; // 2 added the measured gap between scans, 3 the scans skipped in it, 4 function and minutes of a request, 5 signal and value, 6 the kept figures a run began with
    private const int RunIdBytes = 40;
    private const int DigestBytes = 32;
    private const int FixedBytes = 8 + 4 + 4 + RunIdBytes + DigestBytes + 4 + 4 + 4;
    private const int KeptBytesMax = 1 << 24;
    private const int BlocksMax = 10_000;

    private static ReadOnlySpan<byte> Magic => "EDGTAIL1"u8;

    /// <summary>Run id.</summary>
    public required string RunId { get; init; }

    /// <summary>SHA-256 of the configuration, 32 bytes.</summary>
    public required ReadOnlyMemory<byte> SiteDigest { get; init; }

    /// <summary>Units of the site.</summary>
    public required int UnitCount { get; init; }

    /// <summary>Words of each poll block.</summary>
    public required IReadOnlyList<int> BlockWordCounts { get; init; }

    /// <summary>What the units brought along from the runs before, as texts of <see cref="Kept.KeptCodec"/>; a replay begins with them.</summary>
    public ReadOnlyMemory<byte> Kept { get; init; }

    /// <summary>A scan of this shape.</summary>
    public RawScan NewScan() => new([.. BlockWordCounts], UnitCount);

    /// <summary>The header as bytes: magic, version, length, run, digest, counts, word counts, kept figures, CRC-32.</summary>
    public byte[] ToBytes()
    {
        byte[] bytes = new byte[FixedBytes + (BlockWordCounts.Count * 4) + Kept.Length + 4];
        Magic.CopyTo(bytes);
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(8), Version);
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(12), bytes.Length);
        _ = Encoding.ASCII.GetBytes(RunId, bytes.AsSpan(16, RunIdBytes));
        SiteDigest.Span.CopyTo(bytes.AsSpan(16 + RunIdBytes, DigestBytes));
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(FixedBytes - 12), UnitCount);
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(FixedBytes - 8), BlockWordCounts.Count);
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(FixedBytes - 4), Kept.Length);
        Kept.Span.CopyTo(bytes.AsSpan(FixedBytes + (BlockWordCounts.Count * 4)));
        for (int i = 0; i < BlockWordCounts.Count; i++)
        {
            BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(FixedBytes + (i * 4)), BlockWordCounts[i]);
        }

        BinaryPrimitives.WriteUInt32LittleEndian(bytes.AsSpan(bytes.Length - 4), Crc32.Compute(bytes.AsSpan(0, bytes.Length - 4)));
        return bytes;
    }

    /// <summary>Reads a header from a stream.</summary>
    /// <param name="stream">Stands behind the header afterwards.</param>
    /// <exception cref="InvalidDataException">No recording of this version, or damaged.</exception>
    public static RawTailHeader Read(Stream stream)
    {
        ArgumentNullException.ThrowIfNull(stream);
        byte[] start = new byte[FixedBytes];
        if (stream.ReadAtLeast(start, FixedBytes, throwOnEndOfStream: false) < FixedBytes || !start.AsSpan().StartsWith(Magic) || BinaryPrimitives.ReadInt32LittleEndian(start.AsSpan(8)) != Version)
        {
            throw new InvalidDataException("not a recording of this program and version");
        }

        int units = BinaryPrimitives.ReadInt32LittleEndian(start.AsSpan(FixedBytes - 12));
        int blocks = BinaryPrimitives.ReadInt32LittleEndian(start.AsSpan(FixedBytes - 8));
        int kept = BinaryPrimitives.ReadInt32LittleEndian(start.AsSpan(FixedBytes - 4));
        if (units is < 1 or > BlocksMax || blocks is < 0 or > BlocksMax || kept is < 0 or > KeptBytesMax)
        {
            throw new InvalidDataException("the header of the recording is damaged");
        }

        byte[] rest = new byte[(blocks * 4) + kept + 4];
        if (stream.ReadAtLeast(rest, rest.Length, throwOnEndOfStream: false) < rest.Length
            || BinaryPrimitives.ReadUInt32LittleEndian(rest.AsSpan(rest.Length - 4)) != Crc32.Compute([.. start, .. rest.AsSpan(0, rest.Length - 4)]))
        {
            throw new InvalidDataException("the header of the recording is damaged");
        }

        int[] words = new int[blocks];
        for (int i = 0; i < blocks; i++)
        {
            words[i] = BinaryPrimitives.ReadInt32LittleEndian(rest.AsSpan(i * 4));
        }

        return new RawTailHeader
        {
            RunId = Encoding.ASCII.GetString(start, 16, RunIdBytes).TrimEnd('\0'),
            SiteDigest = start.AsMemory(16 + RunIdBytes, DigestBytes),
            UnitCount = units,
            BlockWordCounts = words,
            Kept = rest.AsMemory(blocks * 4, kept),
        };
    }
}
