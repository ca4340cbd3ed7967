using System.Buffers.Binary;
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

    // Eight bytes at a time; a peer cannot fill this table, so it need not resist chosen collisions.
    private static int Hash(ReadOnlySpan<byte> bytes)
    {
        ulong hash = (ulong)bytes.Length;
        for (; bytes.Length >= sizeof(ulong); bytes = bytes[sizeof(ulong)..])
        {
            hash = Mix(hash ^ BinaryPrimitives.ReadUInt64LittleEndian(bytes));
        }

        ulong rest = 0;
        foreach (byte b in bytes)
        {
            rest = (rest << 8) | b;
        }

        return (int)(Mix(hash ^ rest) & int.MaxValue);
    }

    private static ulong Mix(ulong value)
    {
        const ulong Odd = 0x9E37_79B9_7F4A_7C15;
        ulong mixed = unchecked(value * Odd);
        return mixed ^ (mixed >> 32);
    }
}
