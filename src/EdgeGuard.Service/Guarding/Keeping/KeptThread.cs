using System.Security.Cryptography;
using EdgeGuard.Records.Journal;
using EdgeGuard.Records.Kept;

namespace EdgeGuard.Service.Guarding.Keeping;

/// <summary>
/// Saves the figures now and then and at an orderly stop, on a thread of its own: a disk that stands still holds nobody
/// up. After a kill or a power cut at most the last interval is missing. A file whose figures have not changed is not
/// written; the journal has the SHA-256 of what was saved at the stop and once a day, so that a file that was exchanged
/// meanwhile shows.
/// </summary>
internal sealed class KeptThread : IDisposable
{
    // Soon after the start: a folder that cannot be written is told at once and not after the first interval, and what
    // the first saving allocates belongs to the start.
    private const int FirstMs = 1_000;
    private const int TickMs = 100;
    private const int ServeTicksMax = 50;
    private const int DayMs = 86_400_000;
    private const int JoinMs = 5_000;

    private readonly KeptStore _store;
    private readonly KeptCopy _copy;
    private readonly JournalPort _journal;
    private readonly Func<long> _utcNowMs;
    private readonly string _runId;
    private readonly int _intervalMs;
    private readonly KeptCodec _codec = new();
    private readonly byte[][] _saved;
    private readonly Thread _thread;
    private readonly ManualResetEventSlim _stop = new();
    private long _toldMs = Environment.TickCount64;
    private bool _failing;

    /// <summary>Allocates; nothing runs before <see cref="Start"/>.</summary>
    public KeptThread(KeptStart start, KeptCopy copy, JournalPort journal, Func<long> utcNowMs, string runId, int intervalMs)
    {
        (_store, _copy, _journal, _utcNowMs, _runId, _intervalMs) = (start.Store, copy, journal, utcNowMs, runId, intervalMs);
        _saved = [.. copy.Records.Select(static _ => new byte[SHA256.HashSizeInBytes])]; // zeros are the hash of nothing
        foreach (KeptRecord record in copy.Records)
        {
            start.Store.Prepare(record.Unit);
        }

        _thread = new Thread(Run) { Name = "figures", IsBackground = true };
    }

    /// <summary>Starts the thread.</summary>
    public void Start() => _thread.Start();

    /// <summary>Ends the thread and saves the figures of the last scan; only after the scan thread has ended.</summary>
    public void SaveLast()
    {
        if (!EndThread())
        {
            return; // the disk holds it in a write; the file before stands
        }

        _copy.TakeLast();
        SaveAll(tell: true);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (EndThread())
        {
            _stop.Dispose();
        }
    }

    private bool EndThread()
    {
        _stop.Set();
        return _thread.ThreadState.HasFlag(ThreadState.Unstarted) || _thread.Join(JoinMs);
    }

    private void Run()
    {
        int waitMs = Math.Min(FirstMs, _intervalMs);
        while (!_stop.Wait(waitMs))
        {
            waitMs = _intervalMs;
            _copy.Ask();
            if (IsServed())
            {
                bool tell = Environment.TickCount64 - _toldMs >= DayMs;
                SaveAll(tell);
            }
        }
    }

    private bool IsServed()
    {
        for (int i = 0; i < ServeTicksMax && !_copy.IsServed; i++)
        {
            if (_stop.Wait(TickMs))
            {
                return false;
            }
        }

        return _copy.IsServed;
    }

    private void SaveAll(bool tell)
    {
        _toldMs = tell ? Environment.TickCount64 : _toldMs;
        string? fault = null;
        for (int i = 0; i < _copy.Records.Length; i++)
        {
            fault = Save(i, tell) ?? fault;
        }

        if (fault is not null != _failing)
        {
            _failing = fault is not null;
            _journal.Post(_failing ? ShellEventId.FiguresFailed : ShellEventId.FiguresRecovered, fault ?? "the figures are saved again");
        }
    }

    private string? Save(int unit, bool tell)
    {
        KeptRecord record = _copy.Records[unit];
        (record.SavedUtcMs, record.RunId) = (_utcNowMs(), _runId);
        _codec.Write(record);
        if (!tell && _codec.FiguresHash.SequenceEqual(_saved[unit]))
        {
            return null;
        }

        try
        {
            _store.Write(record.Unit, _codec.Written);
            _codec.FiguresHash.CopyTo(_saved[unit]);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return $"the figures of {record.Unit} cannot be saved; they are tried again: {e.Message}";
        }

        if (tell)
        {
            _journal.Post(ShellEventId.FiguresSaved, record.Unit, $"{_store.NameOf(record.Unit)} sha256 {KeptCodec.HashOf(_codec.Written)}");
        }

        return null;
    }
}
