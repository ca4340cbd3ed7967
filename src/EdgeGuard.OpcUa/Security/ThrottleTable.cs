namespace EdgeGuard.OpcUa.Security;

/// <summary>Wrong attempts by key. When the table is full the entry that waits least, then the oldest, gives way.</summary>
internal sealed class ThrottleTable(LoginThrottleOptions options, long waitMsMax)
{
    private const int DoublingsMax = 30;

    private readonly Dictionary<string, Entry> _entries = new(StringComparer.Ordinal);

    public int Count => _entries.Count;

    public long WaitMs(string key, long nowMs) => _entries.TryGetValue(key, out Entry entry) ? Math.Max(0, entry.OpenMs - nowMs) : 0;

    public void Wrong(string key, long nowMs)
    {
        bool known = _entries.TryGetValue(key, out Entry entry) && nowMs - entry.LastMs < options.ForgetMs;
        int wrong = known ? Math.Min(entry.Wrong + 1, options.FreeAttempts + DoublingsMax) : 1;
        if (!_entries.ContainsKey(key) && _entries.Count >= options.EntriesMax)
        {
            _entries.Remove(_entries.MinBy(static e => (e.Value.OpenMs, e.Value.LastMs)).Key);
        }

        int beyond = wrong - options.FreeAttempts;
        long waitMs = beyond < 1 ? 0 : Math.Min(options.FirstWaitMs << (beyond - 1), waitMsMax);
        _entries[key] = new Entry(wrong, nowMs, nowMs + waitMs);
    }

    public void Clear(string key) => _entries.Remove(key);

    private readonly record struct Entry(int Wrong, long LastMs, long OpenMs);
}
