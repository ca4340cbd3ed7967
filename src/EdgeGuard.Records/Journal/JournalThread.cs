using System.Collections.Concurrent;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Queues;

namespace EdgeGuard.Records.Journal;

/// <summary>
/// The thread between the scan and the disk. The scan hands over events without waiting, without allocating and
/// without knowing whether the disk lives; it gets back two figures, the durable watermark and the health, which the
/// core judges like any other input. A disk that fails keeps everything in the queue and is tried again; one that does
/// not come back from a write (a dying disk, a network file system) counts as failing while it does not. An event
/// that found the queue full can never become durable, so the watermark stops before it for the rest of the run: what
/// runs goes on, but no new permit is given until the guard is started again.
/// </summary>
public sealed class JournalThread : IDisposable
{
    private const long PendingBytesMax = 1 << 20;
    private const int IdleWaitMs = 1_000;

    private readonly JournalWriter _writer;
    private readonly JournalThreadOptions _options;
    private readonly GuardEventFormatter _formatter;
    private readonly SpscQueue<GuardEvent> _events;
    private readonly ConcurrentQueue<JournalEntry> _entries = new();
    private readonly AutoResetEvent _wake = new(false);
    private readonly ManualResetEventSlim _drained = new(false);
    private readonly Thread _thread;

    private readonly UnwrittenLines _unwritten;
    private long _durable;
    private long _formatted;
    private long _firstLost = long.MaxValue;
    private long _lost;
    private long _lostTold;
    private long _lostDurable;
    private long _entryCount;
    private long _entriesLost;
    private long _entriesLostTold;
    private long _drainAsked;
    private long _drainDone;
    private int _health;
    private int _sleeping;
    private int _stop; // 0 run, 1 stop without a word, 2 stop with the entry of a clean stop
    private bool _opened;
    private bool _stopWritten;
    private long _failingSinceMs = -1;
    private long _commitSinceMs = -1;
    private string _failure = string.Empty;

    /// <summary>Prepares the thread; nothing runs before <see cref="Start"/>.</summary>
    /// <param name="storage">The journal's folder; the caller disposes it after this.</param>
    /// <param name="options">How to run.</param>
    public JournalThread(IJournalStorage storage, JournalThreadOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        _options = options;
        _writer = new JournalWriter(storage, options.Run);
        _formatter = new GuardEventFormatter(options.UnitNames, options.ScanMs);
        _unwritten = new UnwrittenLines(options.Written);
        _events = new SpscQueue<GuardEvent>(options.EventCapacity);
        _thread = new Thread(Run) { Name = "journal", IsBackground = true };
    }

    /// <summary>Highest sequence number known to be durable, never beyond the first lost one.</summary>
    public long DurableEvent => Math.Min(Volatile.Read(ref _durable), Volatile.Read(ref _firstLost) - 1);

    /// <summary>Whether events can be made durable now. Unknown until the journal was opened; after a loss never healthy again.</summary>
    public JournalHealth Health
    {
        get
        {
            long lost = Volatile.Read(ref _lost);
            bool failing = lost != Volatile.Read(ref _lostDurable) || StalledMs > _options.StallMs;
            var health = failing ? JournalHealth.Failing : (JournalHealth)Volatile.Read(ref _health);
            return health == JournalHealth.Healthy && lost != 0 ? JournalHealth.EventsLost : health;
        }
    }

    /// <summary>Events of the core lost because the queue was full.</summary>
    public long LostEvents => Volatile.Read(ref _lost);

    /// <summary>Entries of the shell lost because their queue was full.</summary>
    public long LostEntries => Volatile.Read(ref _entriesLost);

    /// <summary>What was found when the journal was opened; null until then.</summary>
    public JournalReport? Found => _writer.Found;

    /// <summary>Why the journal cannot be written; empty when it can.</summary>
    public string Failure => StalledMs is var stalledMs && stalledMs > _options.StallMs ? StallText(stalledMs) : Volatile.Read(ref _failure);

    private long StalledMs => Volatile.Read(ref _commitSinceMs) is var since && since < 0 ? 0 : Environment.TickCount64 - since;

    /// <summary>Starts the thread. A journal that cannot be opened does not throw here: it shows as health Failing.</summary>
    public void Start() => _thread.Start();

    /// <summary>Hands over an event. Scan thread only; never waits, never allocates.</summary>
    /// <param name="e">The event.</param>
    /// <returns>False when it is lost; that is counted, journalled later and shows in the health at once.</returns>
    public bool TryEnqueue(in GuardEvent e)
    {
        if (!_events.TryEnqueue(e))
        {
            if (_lost == 0)
            {
                Volatile.Write(ref _firstLost, e.Sequence);
            }

            Volatile.Write(ref _lost, _lost + 1);
            Wake();
            return false;
        }

        Wake();
        return true;
    }

    /// <summary>Hands over an entry of the shell. Any thread; never waits.</summary>
    /// <param name="entry">The entry.</param>
    /// <returns>False when the queue is full; that is counted and journalled later.</returns>
    public bool TryPost(JournalEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        if (Interlocked.Increment(ref _entryCount) > _options.EntryCapacity)
        {
            Interlocked.Decrement(ref _entryCount);
            Interlocked.Increment(ref _entriesLost);
            Wake();
            return false;
        }

        _entries.Enqueue(entry);
        Wake();
        return true;
    }

    /// <summary>Waits until everything handed over before is durable. For lock-step and for a stop; one caller at a time.</summary>
    /// <param name="timeout">Longest wait.</param>
    /// <returns>False when time ran out or the thread has ended without it.</returns>
    public bool DrainAndWait(TimeSpan timeout)
    {
        long deadline = Environment.TickCount64 + (long)timeout.TotalMilliseconds;
        long ticket = Interlocked.Increment(ref _drainAsked);
        while (Volatile.Read(ref _drainDone) < ticket)
        {
            _drained.Reset();
            Wake();
            long left = deadline - Environment.TickCount64;
            if (Volatile.Read(ref _drainDone) >= ticket)
            {
                break;
            }

            if (left <= 0 || !_thread.IsAlive)
            {
                return false;
            }

            _ = _drained.Wait((int)Math.Min(left, IdleWaitMs));
        }

        return true;
    }

    /// <summary>Writes everything and the entry of a clean stop, then ends the thread. Hand over nothing afterwards.</summary>
    /// <param name="timeout">Longest wait.</param>
    /// <returns>False when the clean stop could not be made durable in time; the next run will then find an unclean stop.</returns>
    public bool StopClean(TimeSpan timeout)
    {
        Volatile.Write(ref _stop, 2);
        Wake();
        return _thread.Join(timeout) && _stopWritten;
    }

    /// <summary>Ends the thread without a clean stop entry unless <see cref="StopClean"/> wrote it.</summary>
    public void Dispose()
    {
        Volatile.Write(ref _stop, 1); // a clean stop had its time
        Wake();
        if (_thread.ThreadState.HasFlag(ThreadState.Unstarted) || _thread.Join(IdleWaitMs * 5))
        {
            _writer.Dispose();
            _wake.Dispose();
            _drained.Dispose();
        }
    }

    // The producer sets the event only while the consumer sleeps or is about to; the two full fences make sure that
    // one of the two sees the other, so no wake-up is lost and a busy journal costs the scan no system call.
    private void Wake()
    {
        Interlocked.MemoryBarrier();
        if (Volatile.Read(ref _sleeping) == 1)
        {
            _wake.Set();
        }
    }

    private void Run()
    {
        int backOffMs = _options.BackOffMinMs;
        while (true)
        {
            int stop = Volatile.Read(ref _stop);
            long asked = Volatile.Read(ref _drainAsked);
            bool good = Attempt(stop);
            if (good)
            {
                backOffMs = _options.BackOffMinMs;
                Volatile.Write(ref _drainDone, asked);
                _drained.Set();
                if (stop != 0)
                {
                    return;
                }

                Sleep(IdleWaitMs);
            }
            else if (stop == 1)
            {
                return;
            }
            else
            {
                _wake.WaitOne(0);
                Thread.Sleep(backOffMs); // not woken by new events: each of them would be one more try on a full disk
                backOffMs = Math.Min(backOffMs * 2, _options.BackOffMaxMs);
            }
        }
    }

    private void Sleep(int timeoutMs)
    {
        Volatile.Write(ref _sleeping, 1);
        Interlocked.MemoryBarrier();
        bool work = _events.Count > 0 || !_entries.IsEmpty || Volatile.Read(ref _stop) != 0 || Volatile.Read(ref _drainAsked) != Volatile.Read(ref _drainDone) || _lost != _lostTold;
        if (!work)
        {
            _wake.WaitOne(timeoutMs);
        }

        Volatile.Write(ref _sleeping, 0);
    }

    // One round: open if need be, then format and write until both queues are empty. Any exception is a journal that
    // cannot be written; a fault of our own must not look better than a full disk.
    private bool Attempt(int stop)
    {
        try
        {
            if (!_opened)
            {
                _writer.Open();
                _opened = true;
            }

            // The line of a recovery has one turn of its own: on a disk that stays slow each of its writes begets the next.
            bool told = false;
            do
            {
                Commit();
            }
            while (FormatWaiting() > 0 || (!told && (told = _writer.PendingBytes > 0)));

            if (stop == 2 && !_stopWritten)
            {
                _writer.Append(Shell(ShellEventId.CleanStop));
                Commit();
                _stopWritten = true;
            }

            return true;
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            Failed(e);
            return false;
        }
    }

    private int FormatWaiting()
    {
        int count = 0;
        FormatLosses(ref count);
        while (_writer.PendingBytes < PendingBytesMax && _entries.TryDequeue(out JournalEntry? entry))
        {
            Interlocked.Decrement(ref _entryCount);
            _writer.Append(entry);
            count++;
        }

        while (_writer.PendingBytes < PendingBytesMax && _events.TryDequeue(out GuardEvent e))
        {
            JournalEntry line = FormatAlways(e);
            _writer.Append(line);
            _unwritten.Add(line);
            _formatted = e.Sequence;
            count++;
        }

        return count;
    }

    // An event has left the queue here; whatever is wrong with its figures, a line with its number has to be written,
    // or the watermark would pass an event that is nowhere.
    private JournalEntry FormatAlways(in GuardEvent e)
    {
        try
        {
            return _formatter.Format(e);
        }
        catch (Exception fault) when (fault is not OutOfMemoryException)
        {
            return new JournalEntry { Id = (int)e.Id, UtcUnixMs = e.UtcUnixMs, Scan = e.Scan, Sequence = e.Sequence, Detail = e.Detail, Text = "The figures of this event could not be formatted: " + fault.Message };
        }
    }

    private void FormatLosses(ref int count)
    {
        long lost = Volatile.Read(ref _lost);
        if (lost != _lostTold)
        {
            _writer.Append(Shell(ShellEventId.EventsLost) with { Detail = lost - _lostTold, Text = $"The queue of events was full. Lost from sequence {Volatile.Read(ref _firstLost)} on; no new permit is given until the guard is started again." });
            _lostTold = lost;
            count++;
        }

        long entriesLost = Volatile.Read(ref _entriesLost);
        if (entriesLost != _entriesLostTold)
        {
            _writer.Append(Shell(ShellEventId.EntriesLost) with { Detail = entriesLost - _entriesLostTold });
            _entriesLostTold = entriesLost;
            count++;
        }
    }

    private void Commit()
    {
        Volatile.Write(ref _commitSinceMs, Environment.TickCount64);
        try
        {
            _writer.CommitLines();
            Volatile.Write(ref _durable, _formatted); // durable now; the head may follow
            Volatile.Write(ref _lostDurable, _lostTold);
            _unwritten.Tell();
            _writer.CommitHead();
            NoteStall();
        }
        finally
        {
            Volatile.Write(ref _commitSinceMs, -1);
        }

        Recovered();
    }

    // A write that came back late was a failure as long as it lasted, and is told like one.
    private void NoteStall()
    {
        long stalledMs = StalledMs;
        if (stalledMs > _options.StallMs && _failingSinceMs < 0)
        {
            _failingSinceMs = Volatile.Read(ref _commitSinceMs);
            Volatile.Write(ref _failure, StallText(stalledMs));
        }
    }

    private static string StallText(long stalledMs) => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"the disk did not finish a write for {stalledMs} ms");

    private void Failed(Exception e)
    {
        Volatile.Write(ref _failure, e.Message);
        Volatile.Write(ref _health, (int)JournalHealth.Failing);
        if (_failingSinceMs < 0)
        {
            _failingSinceMs = Environment.TickCount64;
        }
    }

    private void Recovered()
    {
        if (_failingSinceMs >= 0)
        {
            long failedForMs = Environment.TickCount64 - _failingSinceMs;
            _failingSinceMs = -1;
            _writer.Append(Shell(ShellEventId.JournalRecovered) with { Detail = failedForMs, Reason = _failure, Text = $"The journal could not be written for {failedForMs} ms and can again; nothing that waited was lost." });
            Volatile.Write(ref _failure, string.Empty);
        }

        Volatile.Write(ref _health, (int)JournalHealth.Healthy);
    }

    private JournalEntry Shell(ShellEventId id) => new() { Id = (int)id, UtcUnixMs = _options.Run.UtcNowMs() };
}
