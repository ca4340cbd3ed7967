using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Guarding.Watching;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Hands the latest scan to whoever asks for the status: three copies, exchanged like the blocks of the field, so that
/// a slow reader never holds up the scan. Readers among themselves take turns.
/// </summary>
internal sealed class StatusBoard : IScanCopy
{
    private const int Fresh = 4;
    private const int IndexMask = 3;

    private readonly StatusSnapshot[] _copies;
    private readonly SiteWatch _watch;
    private readonly Lock _readers = new();
    private int _back;
    private int _front = 1;
    private int _middle = 2;

    public StatusBoard(int unitCount, SiteWatch watch)
    {
        _watch = watch;
        _copies = [new StatusSnapshot(unitCount), new StatusSnapshot(unitCount), new StatusSnapshot(unitCount)];
    }

    /// <inheritdoc/>
    public void Copy(in ScanTick tick, RawScan scan, ScanOutput output)
    {
        _copies[_back].CopyFrom(scan, output, _watch);
        _back = Interlocked.Exchange(ref _middle, _back | Fresh) & IndexMask;
    }

    /// <summary>Runs <paramref name="read"/> on the newest copy, which stands still meanwhile.</summary>
    public T Read<T>(Func<StatusSnapshot, T> read)
    {
        lock (_readers)
        {
            if ((Volatile.Read(ref _middle) & Fresh) != 0)
            {
                _front = Interlocked.Exchange(ref _middle, _front) & IndexMask;
            }

            return read(_copies[_front]);
        }
    }
}
