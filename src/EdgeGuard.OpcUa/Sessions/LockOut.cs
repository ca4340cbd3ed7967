using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.OpcUa.Sessions;

/// <summary>
/// Slows guessing of passwords down: after too many wrong ones an address, and a user name, has to wait. The table is
/// bounded; when it is full the entry that is over soonest gives way. Used under the server's gate.
/// </summary>
internal sealed class LockOut(ServerLimits limits)
{
    private readonly Dictionary<string, Entry> _entries = new(StringComparer.Ordinal);

    public bool IsLocked(string address, string userName, long nowMs) => IsLocked("a " + address, nowMs) || IsLocked("u " + userName, nowMs);

    public void Wrong(string address, string userName, long nowMs)
    {
        Count("a " + address, nowMs);
        Count("u " + userName, nowMs);
    }

    public void Right(string address, string userName)
    {
        _entries.Remove("a " + address);
        _entries.Remove("u " + userName);
    }

    private bool IsLocked(string key, long nowMs) => _entries.TryGetValue(key, out Entry entry) && entry.Wrong >= limits.WrongPasswordsMax && nowMs < entry.EndMs;

    private void Count(string key, long nowMs)
    {
        bool known = _entries.TryGetValue(key, out Entry entry);
        if (!known && _entries.Count >= limits.LockOutEntriesMax)
        {
            _entries.Remove(_entries.MinBy(static e => e.Value.EndMs).Key);
        }

        int before = known && nowMs < entry.EndMs ? entry.Wrong : 0;
        _entries[key] = new Entry(before + 1, nowMs + limits.LockOutMs);
    }

    private readonly record struct Entry(int Wrong, long EndMs);
}
