using EdgeGuard.Records.Journal;

namespace EdgeGuard.Records.Tests.Journal;

/// <summary>
/// A disk in memory that logs the order of operations, fails on command and forgets what was never synced: the state
/// after a power loss is the synced content, plus as much of the unsynced part of the last file as a test chooses.
/// </summary>
internal sealed class FaultyStorage : IJournalStorage
{
    private readonly Dictionary<string, byte[]> _files = new(StringComparer.Ordinal);
    private readonly Dictionary<string, byte[]> _durable = new(StringComparer.Ordinal);
    private readonly HashSet<string> _namesDurable = new(StringComparer.Ordinal);
    private readonly Lock _gate = new();

    public List<string> Log { get; } = [];

    public Func<string, string, Exception?> Fault { get; set; } = (_, _) => null;

    /// <summary>Bytes of the next write that reach the file before it fails; −1: no torn write.</summary>
    public int TearNextWriteAt { get; set; } = -1;

    public IReadOnlyList<string> List()
    {
        lock (_gate)
        {
            return [.. _files.Keys.Order(StringComparer.Ordinal)];
        }
    }

    public byte[] Read(string name)
    {
        lock (_gate)
        {
            return [.. _files[name]];
        }
    }

    public void Put(string name, byte[] bytes)
    {
        lock (_gate)
        {
            _files[name] = bytes;
        }
    }

    public void Remove(string name)
    {
        lock (_gate)
        {
            _files.Remove(name);
        }
    }

    public IJournalFile Open(string name)
    {
        Step("open", name);
        lock (_gate)
        {
            _files.TryAdd(name, []);
        }

        return new FaultyFile(this, name);
    }

    public void SyncFolder()
    {
        Step("syncfolder", string.Empty);
        lock (_gate)
        {
            foreach (string name in _files.Keys)
            {
                _namesDurable.Add(name);
            }
        }
    }

    /// <summary>The disk after a power loss: names and content that were synced, and of what was appended since as much as given.</summary>
    public FaultyStorage PowerLoss(int unsyncedBytesKept = 0)
    {
        var after = new FaultyStorage();
        lock (_gate)
        {
            foreach (string name in _namesDurable)
            {
                byte[] synced = _durable.GetValueOrDefault(name, []);
                byte[] seen = _files[name];
                int kept = Math.Clamp(seen.Length - synced.Length, 0, unsyncedBytesKept);
                bool appended = kept > 0 && seen.AsSpan().StartsWith(synced);
                after._files[name] = appended ? seen[..(synced.Length + kept)] : [.. synced];
                after._durable[name] = after._files[name];
                after._namesDurable.Add(name);
            }
        }

        return after;
    }

    public FaultyStorage Copy()
    {
        var copy = new FaultyStorage();
        lock (_gate)
        {
            foreach ((string name, byte[] bytes) in _files)
            {
                copy._files[name] = [.. bytes];
            }
        }

        return copy;
    }

    public void Dispose()
    {
    }

    private void Step(string what, string name)
    {
        lock (_gate)
        {
            Log.Add(what + " " + name);
        }

        if (Fault(what, name) is { } e)
        {
            throw e;
        }
    }

    private sealed class FaultyFile(FaultyStorage storage, string name) : IJournalFile
    {
        public void Write(long offset, ReadOnlySpan<byte> bytes)
        {
            if (storage.TearNextWriteAt >= 0)
            {
                Put(offset, bytes[..Math.Min(storage.TearNextWriteAt, bytes.Length)]);
                storage.TearNextWriteAt = -1;
                throw new IOException("torn write");
            }

            storage.Step("write", name);
            Put(offset, bytes);
        }

        public void SetLength(long length)
        {
            storage.Step("setlength", name);
            lock (storage._gate)
            {
                byte[] content = storage._files[name];
                Array.Resize(ref content, (int)length);
                storage._files[name] = content;
            }
        }

        public void Sync()
        {
            storage.Step("sync", name);
            lock (storage._gate)
            {
                storage._durable[name] = [.. storage._files[name]];
            }
        }

        public void Dispose()
        {
        }

        private void Put(long offset, ReadOnlySpan<byte> bytes)
        {
            lock (storage._gate)
            {
                byte[] content = storage._files[name];
                if (content.Length < offset + bytes.Length)
                {
                    Array.Resize(ref content, (int)(offset + bytes.Length));
                }

                bytes.CopyTo(content.AsSpan((int)offset));
                storage._files[name] = content;
            }
        }
    }
}
