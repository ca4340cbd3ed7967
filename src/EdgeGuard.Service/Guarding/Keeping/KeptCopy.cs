using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Kept;
using EdgeGuard.Service.Guarding.Watching;

namespace EdgeGuard.Service.Guarding.Keeping;

/// <summary>
/// Copies all figures into records when the keeping thread has asked for them, in the scan that comes next and whole, so
/// that they are those of one scan. In every other scan it costs one look at a word. The records belong to the keeping
/// thread while nothing is asked for.
/// </summary>
internal sealed class KeptCopy(KeptRecord[] records, SiteWatch watch) : IScanCopy
{
    private ScanOutput? _last;
    private int _asked;

    /// <summary>The records as copied last.</summary>
    public KeptRecord[] Records => records;

    /// <summary>What was asked for has been copied.</summary>
    public bool IsServed => Volatile.Read(ref _asked) == 0;

    /// <summary>Asks for a copy by the next scan.</summary>
    public void Ask() => Volatile.Write(ref _asked, 1);

    /// <inheritdoc/>
    public void Copy(in ScanTick tick, RawScan scan, ScanOutput output)
    {
        _last = output;
        if (Volatile.Read(ref _asked) != 0)
        {
            TakeAll(output);
            Volatile.Write(ref _asked, 0);
        }
    }

    /// <summary>Copies the figures of the last scan; only after the scan thread has ended.</summary>
    public void TakeLast()
    {
        if (_last is { } output)
        {
            TakeAll(output);
        }

        Volatile.Write(ref _asked, 0);
    }

    private void TakeAll(ScanOutput output)
    {
        for (int i = 0; i < records.Length; i++)
        {
            records[i].Take(output.Units[i]);
            watch[i].Keep(records[i]);
        }
    }
}
