using System.Globalization;

namespace EdgeGuard.Records.Journal;

/// <summary>
/// Writes the journal: formats, chains, appends, syncs, and only then moves the head. Lines that could not be written
/// stay in memory and are written again from the start of the batch, on a file cut back to its durable length: after
/// a failed fsync the system may have dropped the pages, so nothing of that batch is believed. For one thread.
/// </summary>
public sealed class JournalWriter : IDisposable
{
    private readonly IJournalStorage _storage;
    private readonly JournalRun _run;
    private readonly MemoryStream _pending = new();
    private readonly List<JournalEntry> _opening = [];
    private IJournalFile? _file;
    private IJournalFile? _headFile;
    private int _segment;
    private long _durableLength;
    private long _number;
    private string _hash = JournalChain.Start;
    private bool _firstOfSegment;
    private bool _fileUncertain;
    private bool _headStale;

    /// <summary>Prepares a writer; nothing is touched before <see cref="Open"/>.</summary>
    /// <param name="storage">The journal's folder; the caller disposes it.</param>
    /// <param name="run">Facts of this run.</param>
    public JournalWriter(IJournalStorage storage, JournalRun run)
    {
        ArgumentNullException.ThrowIfNull(storage);
        ArgumentNullException.ThrowIfNull(run);
        _storage = storage;
        _run = run;
    }

    /// <summary>Bytes formatted and not yet durable.</summary>
    public long PendingBytes => _pending.Length;

    /// <summary>Number of the last formatted line.</summary>
    public long LastNumber => _number;

    /// <summary>What was found when the journal was opened; null before.</summary>
    public JournalReport? Found { get; private set; }

    /// <summary>
    /// Verifies what is there, moves a torn tail aside, decides where to go on and formats the first entries of the
    /// run. May be called again after it threw.
    /// </summary>
    public void Open()
    {
        JournalReport found = JournalVerifier.Verify(_storage);
        if (found.SegmentCount == 0 && found.Head is null && found.IsWhole)
        {
            WriteHead(new JournalHead(0, 1, 0, JournalChain.Start));
            _storage.SyncFolder();
        }

        MoveTornTailAside(found);
        Continue(found);
        Found = found;
        AppendOpening(found);
    }

    /// <summary>Formats an entry and chains it; it is durable only after <see cref="CommitLines"/>.</summary>
    /// <param name="entry">The entry.</param>
    public void Append(JournalEntry entry)
    {
        if (_pending.Length == 0 && _durableLength >= _run.SegmentBytes)
        {
            BeginSegment(_segment + 1);
        }

        byte[] body = JournalLineCodec.Format(entry, _number + 1, _run.Id, _firstOfSegment ? _hash : null);
        _firstOfSegment = false;
        _number++;
        _hash = JournalChain.Next(_hash, body);
        _pending.Write(body);
        _pending.WriteByte((byte)'\t');
        _pending.Write(System.Text.Encoding.ASCII.GetBytes(_hash));
        _pending.WriteByte((byte)'\n');
    }

    /// <summary>Writes and syncs everything formatted. When it returns, those lines are durable.</summary>
    public void CommitLines()
    {
        if (_pending.Length == 0)
        {
            return;
        }

        if (_file is null)
        {
            _file = OpenSegment();
            _fileUncertain = true;
        }

        if (_fileUncertain)
        {
            _file.SetLength(_durableLength);
        }

        _fileUncertain = true;
        _file.Write(_durableLength, _pending.GetBuffer().AsSpan(0, (int)_pending.Length));
        _file.Sync();
        _fileUncertain = false;
        _durableLength += _pending.Length;
        _pending.SetLength(0);
        _headStale = true;
    }

    /// <summary>Moves the head to the last durable line. Call after <see cref="CommitLines"/>.</summary>
    public void CommitHead()
    {
        if (_headStale && _pending.Length == 0)
        {
            WriteHead(new JournalHead(_number, _segment, _durableLength, _hash));
            _headStale = false;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        CloseFile();
        _headFile?.Dispose();
        _pending.Dispose();
    }

    private void MoveTornTailAside(JournalReport found)
    {
        if (found.TornBytes == 0)
        {
            return;
        }

        string segmentName = JournalNames.Segment(found.LastSegment);
        byte[] bytes = _storage.Read(segmentName);
        string tornName = FreeTornName(segmentName, found.LastNumber + 1);
        using (IJournalFile torn = _storage.Open(tornName))
        {
            torn.Write(0, bytes.AsSpan((int)found.LastSegmentGoodBytes));
            torn.Sync();
        }

        _storage.SyncFolder(); // the bytes are safe under their new name before they go from the old one
        using (IJournalFile segment = _storage.Open(segmentName))
        {
            segment.SetLength(found.LastSegmentGoodBytes);
            segment.Sync();
        }

        _opening.Add(Shell(ShellEventId.TornTailMoved) with
        {
            Detail = found.TornBytes,
            Text = $"{found.TornBytes} bytes of an unfinished write at the end of {segmentName} were moved to {tornName}; they were never durable and nothing was energised on them",
        });
    }

    private string FreeTornName(string segmentName, long line)
    {
        IReadOnlyList<string> names = _storage.List();
        for (int attempt = 1; ; attempt++)
        {
            string name = string.Create(CultureInfo.InvariantCulture, $"{segmentName}.{line}-{attempt}.torn");
            if (!names.Contains(name, StringComparer.Ordinal))
            {
                return name;
            }
        }
    }

    private void Continue(JournalReport found)
    {
        _number = Math.Max(found.LastNumber, found.Head?.Number ?? 0);
        _hash = found.LastHash;
        _pending.SetLength(0);
        if (found.Unstated.Count > 0)
        {
            BeginSegment(Math.Max(found.LastSegment, found.Head?.Segment ?? 0) + 1);
            return;
        }

        CloseFile();
        _segment = Math.Max(1, found.LastSegment);
        _durableLength = found.LastSegmentGoodBytes;
        _firstOfSegment = _durableLength == 0;
    }

    private void AppendOpening(JournalReport found)
    {
        if (found.Unstated.Count > 0)
        {
            Append(Shell(ShellEventId.ChainBreak) with { Detail = found.Unstated.Count, Text = Describe(found.Unstated) });
        }

        bool first = found.LastNumber == 0 && found.LineCount == 0 && found.Unstated.Count == 0;
        ShellEventId stop = first ? ShellEventId.FirstRun : found.LastEventId == (int)ShellEventId.CleanStop ? ShellEventId.CleanStopFound : ShellEventId.UncleanStopFound;
        Append(Shell(stop));
        foreach (JournalEntry entry in _opening)
        {
            Append(entry);
        }

        _opening.Clear();
        Append(Shell(ShellEventId.RunStarted) with { Text = _run.Version });
    }

    private static string Describe(IReadOnlyList<JournalFinding> findings)
    {
        const int Told = 3;
        string text = string.Join("; ", findings.Take(Told));
        return findings.Count > Told ? $"{text}; and {findings.Count - Told} more" : text;
    }

    private JournalEntry Shell(ShellEventId id) => new() { Id = (int)id, UtcUnixMs = _run.UtcNowMs() };

    private void BeginSegment(int segment)
    {
        CloseFile();
        _segment = segment;
        _durableLength = 0;
        _firstOfSegment = true;
    }

    // A segment counts as there only when its name is durable too.
    private IJournalFile OpenSegment()
    {
        IJournalFile file = _storage.Open(JournalNames.Segment(_segment));
        try
        {
            _storage.SyncFolder();
            return file;
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    private void WriteHead(JournalHead head)
    {
        _headFile ??= _storage.Open(JournalNames.Head);
        try
        {
            byte[] bytes = head.ToBytes();
            _headFile.Write(0, bytes);
            _headFile.SetLength(bytes.Length);
            _headFile.Sync();
        }
        catch
        {
            _headFile.Dispose(); // perhaps its name is gone: the next try makes it again
            _headFile = null;
            throw;
        }
    }

    private void CloseFile()
    {
        _file?.Dispose();
        _file = null;
    }
}
