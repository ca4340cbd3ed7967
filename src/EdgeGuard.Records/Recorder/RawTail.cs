using System.Buffers.Binary;
using System.Globalization;
using EdgeGuard.Core.Signals;
using Microsoft.Win32.SafeHandles;

namespace EdgeGuard.Records.Recorder;

/// <summary>
/// Records the whole input of every scan, so that each decision can be replayed. The scan thread copies into a slot
/// that was allocated at start and goes on; when the disk cannot follow, scans are dropped and counted, because a gap
/// in a recording is better than a late scan. Its own thread writes, syncs each second and keeps the folder in bounds.
/// </summary>
public sealed class RawTail : IDisposable
{
    private const int WaitMs = 50;
    private const int RetryMs = 1_000;

    private readonly RawTailOptions _options;
    private readonly RawScan[] _slots;
    private readonly long _mask;
    private readonly byte[] _record;
    private readonly byte[] _headerBytes;
    private readonly Thread _thread;
    private long _written;
    private long _read;
    private long _dropped;
    private int _stop;
    private string _failure = string.Empty;
    private SafeFileHandle? _file;
    private long _fileLength;
    private int _fileNumber;
    private long _lastSyncMs;
    private bool _dirty;

    /// <summary>Allocates the slots; nothing runs before <see cref="Start"/>.</summary>
    /// <param name="options">How to run.</param>
    public RawTail(RawTailOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        if (options.Slots < 1 || (options.Slots & (options.Slots - 1)) != 0)
        {
            throw new ArgumentOutOfRangeException(nameof(options), options.Slots, "The number of slots is a power of two.");
        }

        _options = options;
        _mask = options.Slots - 1;
        _slots = new RawScan[options.Slots];
        for (int i = 0; i < _slots.Length; i++)
        {
            _slots[i] = options.Header.NewScan();
        }

        _record = new byte[RawScanCodec.Size(_slots[0]) + 8];
        _headerBytes = options.Header.ToBytes();
        _thread = new Thread(Run) { Name = "recorder", IsBackground = true };
    }

    /// <summary>Scans dropped because all slots were full.</summary>
    public long Dropped => Volatile.Read(ref _dropped);

    /// <summary>Why the recording cannot be written; empty when it can.</summary>
    public string Failure => Volatile.Read(ref _failure);

    /// <summary>Starts the thread.</summary>
    public void Start() => _thread.Start();

    /// <summary>Takes a copy of a scan. Scan thread only; never waits, never allocates.</summary>
    /// <param name="scan">The scan, of the shape in the header.</param>
    /// <returns>False when it was dropped.</returns>
    public bool TryRecord(RawScan scan)
    {
        long written = _written;
        if (written - Volatile.Read(ref _read) >= _slots.Length)
        {
            Volatile.Write(ref _dropped, _dropped + 1);
            return false;
        }

        RawScanCodec.Copy(scan, _slots[(int)(written & _mask)]);
        Volatile.Write(ref _written, written + 1);
        return true;
    }

    /// <summary>Writes what waits, syncs and ends the thread.</summary>
    public void Dispose()
    {
        Volatile.Write(ref _stop, 1);
        if (!_thread.ThreadState.HasFlag(ThreadState.Unstarted))
        {
            _ = _thread.Join(RetryMs * 5);
        }
    }

    // No signal from the scan: a recording may be 50 ms behind, and a poll costs the scan nothing at all.
    private void Run()
    {
        while (Volatile.Read(ref _stop) == 0)
        {
            Thread.Sleep(Attempt() ? WaitMs : RetryMs);
        }

        _ = Attempt(last: true);
        _file?.Dispose();
    }

    private bool Attempt(bool last = false)
    {
        try
        {
            while (_read < Volatile.Read(ref _written))
            {
                WriteOne(_slots[(int)(_read & _mask)]);
                Volatile.Write(ref _read, _read + 1);
            }

            if (_dirty && (last || Environment.TickCount64 - _lastSyncMs >= _options.SyncMs))
            {
                Sync();
            }

            if (_failure.Length > 0)
            {
                Volatile.Write(ref _failure, string.Empty);
            }

            return true;
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            // Whatever it is: a gap in a recording must not end the guard.
            Volatile.Write(ref _failure, e.Message);
            return false;
        }
    }

    // The position moves only after a whole record, so one cut short by a full disk is overwritten by the next try.
    private void WriteOne(RawScan scan)
    {
        if (_file is null || _fileLength >= _options.FileBytes)
        {
            NextFile();
        }

        int body = _record.Length - 8;
        BinaryPrimitives.WriteInt32LittleEndian(_record, body);
        RawScanCodec.Encode(scan, _record.AsSpan(4, body));
        BinaryPrimitives.WriteUInt32LittleEndian(_record.AsSpan(4 + body), Crc32.Compute(_record.AsSpan(4, body)));
        RandomAccess.Write(_file!, _record, _fileLength);
        _fileLength += _record.Length;
        _dirty = true;
    }

    private void NextFile()
    {
        if (_file is not null)
        {
            Sync();
            _file.Dispose();
            _file = null;
        }

        Directory.CreateDirectory(_options.Folder);
        string name = string.Create(CultureInfo.InvariantCulture, $"tail-{_options.Header.RunId}-{_fileNumber + 1:D6}.bin");
        SafeFileHandle file = File.OpenHandle(Path.Combine(_options.Folder, name), FileMode.Create, FileAccess.Write, FileShare.Read | FileShare.Delete);
        try
        {
            RandomAccess.Write(file, _headerBytes, 0);
        }
        catch
        {
            file.Dispose();
            throw;
        }

        _file = file;
        _fileNumber++;
        _fileLength = _headerBytes.Length;
        RawTailFolder.Trim(_options.Folder, _options.TotalBytes - _options.FileBytes, keep: name);
    }

    // The time moves first: a disk that cannot sync is asked again after the period, not at once.
    private void Sync()
    {
        _lastSyncMs = Environment.TickCount64;
        RandomAccess.FlushToDisk(_file!);
        _dirty = false;
    }
}
