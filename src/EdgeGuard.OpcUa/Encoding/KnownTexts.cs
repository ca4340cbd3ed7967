using System.Text;

namespace EdgeGuard.OpcUa;

/// <summary>
/// Immutable table from UTF-8 bytes to texts that already exist: text NodeIds of a server's own nodes are then read
/// without allocating. A lookup that misses costs one hash.
/// </summary>
public sealed class KnownTexts
{
    private readonly byte[]?[] _keys;
    private readonly string?[] _texts;
    private readonly int _mask;

    /// <summary>Builds the table; duplicates are allowed.</summary>
    public KnownTexts(IReadOnlyCollection<string> texts)
    {
        ArgumentNullException.ThrowIfNull(texts);
        int size = 16;
        while (size < texts.Count * 2)
        {
            size *= 2;
        }

        (_keys, _texts, _mask) = (new byte[size][], new string[size], size - 1);
        foreach (string text in texts)
        {
            Add(text);
        }
    }

    /// <summary>The text with these bytes, or null when it is not known.</summary>
    public string? Find(ReadOnlySpan<byte> utf8)
    {
        for (int slot = Hash(utf8) & _mask; _keys[slot] is { } key; slot = (slot + 1) & _mask)
        {
            if (utf8.SequenceEqual(key))
            {
                return _texts[slot];
            }
        }

        return null;
    }

    private void Add(string text)
    {
        byte[] key = Encoding.UTF8.GetBytes(text);
        int slot = Hash(key) & _mask;
        while (_keys[slot] is not null)
        {
            slot = (slot + 1) & _mask;
        }

        (_keys[slot], _texts[slot]) = (key, text);
    }

    // FNV-1a; a peer cannot fill this table, so it need not resist chosen collisions.
    private static int Hash(ReadOnlySpan<byte> bytes)
    {
        uint hash = 2_166_136_261;
        foreach (byte b in bytes)
        {
            hash = unchecked((hash ^ b) * 16_777_619);
        }

        return (int)(hash & int.MaxValue);
    }
}
