namespace EdgeGuard.Records.Journal;

/// <summary>Events that are formatted and not yet written, kept for whoever wants to be told once they are; nothing is kept for nobody.</summary>
internal sealed class UnwrittenLines(Action<JournalEntry>? written)
{
    private readonly List<JournalEntry> _lines = [];

    public void Add(JournalEntry line)
    {
        if (written is not null)
        {
            _lines.Add(line);
        }
    }

    /// <summary>Everything added so far is written now.</summary>
    public void Tell()
    {
        foreach (JournalEntry line in _lines)
        {
            written!(line);
        }

        _lines.Clear();
    }
}
