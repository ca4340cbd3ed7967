using EdgeGuard.Records.Ring;

namespace EdgeGuard.Acceptance.Tests.RealTime;

/// <summary>
/// Watches a guard until it has scanned for a stretch without writing anything and without being asked. Nothing in here
/// makes the guard work: the ring and what it wrote are read from outside. Beside the stretch it adds up all seconds that
/// lie between seconds without an entry, for a machine so loaded that no whole stretch comes.
/// </summary>
/// <param name="written">Counts what the guard has written so far: entries, lines.</param>
/// <param name="ring">The ring of the guard.</param>
internal sealed class QuietStretch(Func<int> written, ScanRingReader ring)
{
    private const int LookMs = 1_000;

    private int _entries = -1;
    private bool _wasQuiet;
    private long _sinceMs;
    private ScanRingLive _start;
    private ScanRingLive _last;

    /// <summary>Scans of the stretch.</summary>
    public long Scans => _last.ScansWritten - _start.ScansWritten;

    /// <summary>What the gauge moved by in the stretch, bytes.</summary>
    public long Bytes => _last.AllocatedBytes - _start.AllocatedBytes;

    /// <summary>Scans in all quiet seconds.</summary>
    public long PieceScans { get; private set; }

    /// <summary>What the gauge moved by in all quiet seconds, bytes.</summary>
    public long PieceBytes { get; private set; }

    /// <summary>True when a stretch came within the patience.</summary>
    public bool Await(int stretchMs, int patienceMs)
    {
        long endMs = Environment.TickCount64 + patienceMs;
        while (Environment.TickCount64 < endMs)
        {
            Look();
            if (_wasQuiet && Environment.TickCount64 - _sinceMs >= stretchMs)
            {
                return true;
            }

            Thread.Sleep(LookMs);
        }

        return false;
    }

    private void Look()
    {
        // The ring first: an entry written after it is found by the count and ends the stretch.
        ScanRingLive live = ring.ReadLive();
        int entries = written();
        bool quiet = entries == _entries;
        if (!quiet)
        {
            _sinceMs = Environment.TickCount64;
        }
        else if (!_wasQuiet)
        {
            // The second after an entry still belongs to it.
            (_start, _sinceMs) = (live, Environment.TickCount64);
        }
        else
        {
            PieceScans += live.ScansWritten - _last.ScansWritten;
            PieceBytes += live.AllocatedBytes - _last.AllocatedBytes;
        }

        (_entries, _wasQuiet, _last) = (entries, quiet, live);
    }
}
