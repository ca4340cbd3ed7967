namespace EdgeGuard.Records.Journal;

/// <summary>
/// Recomputes the whole journal and compares it with the head record. It decides what is a torn tail (bytes after the
/// last durable line that are no line: power went while writing) and what is damage (everything else), and names each
/// by file and line. It never changes anything.
/// </summary>
public static class JournalVerifier
{
    /// <summary>Verifies a journal.</summary>
    /// <param name="storage">The journal's folder.</param>
    /// <returns>What was found.</returns>
    /// <exception cref="IOException">A file cannot be read.</exception>
    /// <exception cref="InvalidDataException">A file is too large to be a file of the journal.</exception>
    public static JournalReport Verify(IJournalStorage storage)
    {
        ArgumentNullException.ThrowIfNull(storage);
        IReadOnlyList<string> names = storage.List();
        var segments = new List<int>();
        bool headThere = false;
        foreach (string name in names)
        {
            headThere |= string.Equals(name, JournalNames.Head, StringComparison.Ordinal);
            int number = JournalNames.SegmentOf(name);
            if (number > 0)
            {
                segments.Add(number);
            }
        }

        byte[] headBytes = headThere ? storage.Read(JournalNames.Head) : [];
        headThere &= headBytes.Length > 0 || segments.Count > 0; // an empty head without a line: a first start on a full disk
        JournalHead? head = headThere ? JournalHead.Parse(headBytes) : null;
        var report = new JournalReport { Head = head, SegmentCount = segments.Count };
        Walk(storage, segments, report);
        JudgeHead(report, headThere);
        return report;
    }

    private static void Walk(IJournalStorage storage, List<int> segments, JournalReport report)
    {
        var walk = new JournalWalk(report);
        for (int i = 0; i < segments.Count; i++)
        {
            int expected = i == 0 ? 1 : segments[i - 1] + 1;
            string file = JournalNames.Segment(segments[i]);
            if (segments[i] != expected)
            {
                var kind = i == 0 ? JournalFindingKind.MissingStart : JournalFindingKind.Damage;
                report.Add(new JournalFinding(file, 1, kind, $"{JournalNames.Segment(expected)} is not in the folder; expected all segments before {file}"));
            }

            walk.Segment(segments[i], storage.Read(file), isFirst: i == 0, isLast: i == segments.Count - 1);
        }
    }

    private static void JudgeHead(JournalReport report, bool headThere)
    {
        if (report.Head is not { } head)
        {
            if (headThere)
            {
                report.Add(new JournalFinding(JournalNames.Head, 1, JournalFindingKind.HeadDamaged, "the head record is damaged (its checksum or form is wrong); lines removed from the end cannot be told"));
            }
            else if (report.LineCount > 0 || report.TornBytes > 0)
            {
                report.Add(new JournalFinding(JournalNames.Head, 1, JournalFindingKind.HeadMissing, "the head record is missing; lines removed from the end cannot be told"));
            }

            return;
        }

        if (head.Number > report.LastNumber)
        {
            string file = report.LastSegment > 0 ? JournalNames.Segment(report.LastSegment) : JournalNames.Segment(head.Segment);
            int line = report.LastSegment > 0 ? report.LastSegmentLines : 1;
            report.Add(new JournalFinding(file, Math.Max(1, line), JournalFindingKind.MissingEnd, $"the journal ends at {report.LastNumber}, head says {head.Number} (in {JournalNames.Segment(head.Segment)})"));
        }
    }
}
