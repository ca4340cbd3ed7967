using System.Buffers.Binary;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Records.Recorder;

/// <summary>
/// Reads a recording back, scan by scan. It stops at the first record that is cut short or fails its check and says
/// which: the end of a recording after power loss is usually cut, and that is no reason to refuse the rest.
/// </summary>
public sealed class RawTailReader : IDisposable
{
    private readonly FileStream _stream;
    private readonly byte[] _record;

    /// <summary>Opens a recording.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="InvalidDataException">No recording of this version; the message names the file.</exception>
    public RawTailReader(string path)
    {
        _stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        try
        {
            Header = RawTailHeader.Read(_stream);
        }
        catch (InvalidDataException e)
        {
            _stream.Dispose();
            throw new InvalidDataException($"{path}: {e.Message}", e);
        }

        Scan = Header.NewScan();
        _record = new byte[RawScanCodec.Size(Scan) + 8];
    }

    /// <summary>Header of the recording.</summary>
    public RawTailHeader Header { get; }

    /// <summary>The scan read last; overwritten by the next <see cref="Read"/>.</summary>
    public RawScan Scan { get; }

    /// <summary>Records read whole.</summary>
    public long RecordCount { get; private set; }

    /// <summary>Reads the next scan into <see cref="Scan"/>.</summary>
    public RawTailOutcome Read()
    {
        int got = _stream.ReadAtLeast(_record, _record.Length, throwOnEndOfStream: false);
        if (got == 0)
        {
            return RawTailOutcome.End;
        }

        int body = _record.Length - 8;
        if (got < _record.Length)
        {
            return RawTailOutcome.CutShort;
        }

        if (BinaryPrimitives.ReadInt32LittleEndian(_record) != body || BinaryPrimitives.ReadUInt32LittleEndian(_record.AsSpan(4 + body)) != Crc32.Compute(_record.AsSpan(4, body)))
        {
            return RawTailOutcome.Damaged;
        }

        RawScanCodec.Decode(_record.AsSpan(4, body), Scan);
        RecordCount++;
        return RawTailOutcome.Good;
    }

    /// <inheritdoc/>
    public void Dispose() => _stream.Dispose();
}
