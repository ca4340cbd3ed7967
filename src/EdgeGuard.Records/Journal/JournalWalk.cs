using System.Text;

namespace EdgeGuard.Records.Journal;

/// <summary>
/// Walks the lines of the segments in order and keeps the state of the chain. After a damaged line it goes on from
/// either the hash that stands there or the hash that should: whichever the next line continues, so that one flipped
/// byte gives one finding and a second damage further down is still seen.
/// </summary>
internal sealed class JournalWalk
{
    private readonly JournalReport _report;
    private string _previous = JournalChain.Start;
    private string? _previousOther; // second candidate after damage
    private string _previousFile = string.Empty;
    private bool _damagedBefore;

    public JournalWalk(JournalReport report) => _report = report;

    /// <summary>Walks one segment.</summary>
    public void Segment(int segment, byte[] bytes, bool isFirst, bool isLast)
    {
        string file = JournalNames.Segment(segment);
        _report.LastSegment = segment;
        _report.LastSegmentGoodBytes = 0;
        _report.LastSegmentLines = 0;
        int position = 0;
        int line = 0;
        while (position < bytes.Length)
        {
            ReadOnlySpan<byte> rest = bytes.AsSpan(position);
            int end = rest.IndexOf((byte)'\n');
            line++;
            string? problem = end < 0 ? "the line has no end (its newline is missing)" : Judge(rest[..end], file, line, isFirst);
            if (problem is not null && isLast && IsBeyondHead(segment, position))
            {
                Torn(file, line, bytes.Length - position);
                return;
            }

            _report.LineCount++;
            _report.LastSegmentLines = line;
            position = end < 0 ? bytes.Length : position + end + 1;
            Settle(file, line, problem, position);
        }

        _previousFile = file;
    }

    // Only what no head has ever vouched for can be a torn tail.
    private bool IsBeyondHead(int segment, int position) =>
        _report.Head is { } head && (segment > head.Segment || (segment == head.Segment && position >= head.Length));

    private void Torn(string file, int line, int bytes)
    {
        _report.TornBytes = bytes;
        _report.Add(new JournalFinding(file, line, JournalFindingKind.TornTail, $"torn tail: {bytes} bytes after the last durable line are no line (a write cut short, no corruption); the guard moves them aside at its next start"));
    }

    private void Settle(string file, int line, string? problem, int endPosition)
    {
        _damagedBefore = problem is not null;
        if (problem is null)
        {
            _report.LastSegmentGoodBytes = endPosition;
        }
        else
        {
            _report.Add(new JournalFinding(file, line, JournalFindingKind.Damage, problem));
        }
    }

    private string? Judge(ReadOnlySpan<byte> line, string file, int lineNumber, bool isFirstSegment)
    {
        int tab = line.Length - JournalChain.HashLength - 1;
        if (tab < 2 || line[tab] != '\t' || !JournalChain.IsHash(line[(tab + 1)..]) || line[..tab].IndexOfAnyInRange((byte)0, (byte)0x1f) >= 0)
        {
            // The next line is judged from the hash this body should have, or from a tail that still looks like one.
            if (tab >= 2 && line[tab] == '\t')
            {
                _previous = JournalChain.Next(_previous, line[..tab]);
            }

            ReadOnlySpan<byte> tail = line.Length > JournalChain.HashLength ? line[^JournalChain.HashLength..] : default;
            _previousOther = JournalChain.IsHash(tail) ? Encoding.ASCII.GetString(tail) : null;
            return "the line is not of the form body, tab, 64 hexadecimal characters";
        }

        string stated = Encoding.ASCII.GetString(line[(tab + 1)..]);
        return lineNumber == 1 ? JudgeFirst(line[..tab], stated, file, isFirstSegment) : JudgeNext(line[..tab], stated);
    }

    private string? JudgeFirst(ReadOnlySpan<byte> body, string stated, string file, bool isFirstSegment)
    {
        JournalRecord? record = JournalRecord.Parse(body);
        string? prev = record?["prev"];
        if (prev is null || !JournalChain.IsHash(Encoding.UTF8.GetBytes(prev)))
        {
            _previousOther = stated;
            return "the first line of a segment states no previous hash; lines before it may be missing";
        }

        string computed = JournalChain.Next(prev, body);
        if (!string.Equals(computed, stated, StringComparison.Ordinal))
        {
            return Mismatch(computed, stated);
        }

        bool isBreak = record!.EventId == (int)ShellEventId.ChainBreak;
        bool continues = isFirstSegment || Matches(prev);
        bool startsAtStart = !isFirstSegment || _report.Findings.Count > 0 || string.Equals(prev, JournalChain.Start, StringComparison.Ordinal);
        if (isBreak)
        {
            _report.Add(new JournalFinding(file, 1, JournalFindingKind.StatedBreak, "the guard stated here that the history before this line is damaged: " + record["text"]));
            return Accept(record, stated, checkNumber: false);
        }

        if (!continues || !startsAtStart)
        {
            _ = Accept(record, stated, checkNumber: false);
            return $"states the previous hash {prev}, but {(isFirstSegment ? "the journal begins here" : _previousFile + " ends with " + _previous)}";
        }

        return Accept(record, stated, checkNumber: !isFirstSegment || string.Equals(prev, JournalChain.Start, StringComparison.Ordinal));
    }

    private string? JudgeNext(ReadOnlySpan<byte> body, string stated)
    {
        string computed = JournalChain.Next(_previous, body);
        bool good = string.Equals(computed, stated, StringComparison.Ordinal)
            || (_previousOther is { } other && string.Equals(JournalChain.Next(other, body), stated, StringComparison.Ordinal));
        JournalRecord? record = JournalRecord.Parse(body);
        if (!good)
        {
            string hint = record is not null && record.Number != _report.LastNumber + 1 && !_damagedBefore ? $"; n is {record.Number}, expected {_report.LastNumber + 1}" : string.Empty;
            return Mismatch(computed, stated) + hint;
        }

        return record is null ? Unreadable(stated) : Accept(record, stated, checkNumber: true);
    }

    private bool Matches(string prev) =>
        string.Equals(prev, _previous, StringComparison.Ordinal) || (_previousOther is { } other && string.Equals(prev, other, StringComparison.Ordinal));

    private string Mismatch(string computed, string stated)
    {
        _previous = computed;
        _previousOther = stated;
        return $"hash is {stated}, expected {computed}: this line or its place is not what was written";
    }

    private string Unreadable(string stated)
    {
        _previous = stated;
        _previousOther = null;
        return "the body is not one object of integers and strings, though its hash is right";
    }

    private string? Accept(JournalRecord record, string stated, bool checkNumber)
    {
        long expected = _report.LastNumber + 1;
        bool numberGood = !checkNumber || record.Number == expected || (_damagedBefore && record.Number > expected);
        _previous = stated;
        _previousOther = null;
        _report.LastNumber = record.Number;
        _report.LastHash = stated;
        _report.LastEventId = record.EventId;
        if (_report.Head is { } head && head.Number == record.Number && !string.Equals(head.Hash, stated, StringComparison.Ordinal))
        {
            return $"hash is {stated}, but head says {head.Hash} for line {record.Number}: the journal was rewritten";
        }

        return numberGood ? null : $"n is {record.Number}, expected {expected}";
    }
}
