using System.Security.Cryptography;
using System.Text;

namespace EdgeGuard.Records.Kept;

/// <summary>
/// A kept record as a small text that a person can read and a stranger can check: one "key value" a line in a fixed
/// order, and at the end the SHA-256 of everything before that line. There is one text for one set of figures, so a file
/// that was edited by hand shows even where its hash was computed anew.
/// </summary>
public sealed class KeptCodec
{
    private const string HashKey = "sha256 ";
    private const int HashLineBytes = 7 + 64 + 1;

    private readonly KeptTextWriter _writer = new();
    private readonly byte[] _hash = new byte[SHA256.HashSizeInBytes];
    private readonly byte[] _figuresHash = new byte[SHA256.HashSizeInBytes];

    private static ReadOnlySpan<byte> FirstLine => "edgeguard-kept 1"u8;

    /// <summary>The text written last.</summary>
    public ReadOnlySpan<byte> Written => _writer.Written;

    /// <summary>SHA-256 of the figures of the text written last, without the lines about the saving: equal while nothing has changed.</summary>
    public ReadOnlySpan<byte> FiguresHash => _figuresHash;

    /// <summary>Writes a record into a buffer of its own; allocates nothing.</summary>
    /// <param name="record">The record.</param>
    public void Write(KeptRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        _writer.Clear();
        _writer.Line(FirstLine);
        KeptLines.Visit(_writer, record);
        SHA256.HashData(_writer.Written, _figuresHash);
        KeptLines.VisitSaving(_writer, record);
        SHA256.HashData(_writer.Written, _hash);
        Span<byte> line = stackalloc byte[HashLineBytes - 1];
        Encoding.ASCII.GetBytes(HashKey, line);
        _ = Convert.TryToHexStringLower(_hash, line[HashKey.Length..], out _);
        _writer.Line(line);
    }

    /// <summary>The SHA-256 that stands in the last line of a text, 64 hexadecimal digits.</summary>
    /// <param name="text">A whole text.</param>
    public static string HashOf(ReadOnlySpan<byte> text) =>
        text.Length < HashLineBytes ? string.Empty : Encoding.ASCII.GetString(text[^(HashLineBytes - HashKey.Length)..^1]);

    /// <summary>Reads a text.</summary>
    /// <param name="text">A whole text.</param>
    /// <param name="record">The record; null where there is a fault.</param>
    /// <param name="fault">What is wrong; empty where nothing is.</param>
    public static bool TryRead(ReadOnlySpan<byte> text, out KeptRecord? record, out string fault)
    {
        record = null;
        fault = HashFault(text);
        if (fault.Length > 0)
        {
            return false;
        }

        string[] lines = Encoding.UTF8.GetString(text[..^HashLineBytes]).Split('\n')[..^1];
        if (lines.Length == 0 || !string.Equals(lines[0], Encoding.ASCII.GetString(FirstLine), StringComparison.Ordinal))
        {
            fault = $"line 1: found \"{(lines.Length == 0 ? "" : lines[0])}\"; expected \"{Encoding.ASCII.GetString(FirstLine)}\"; another version of the program wrote it";
            return false;
        }

        var read = new KeptRecord();
        var reader = new KeptTextReader(lines, 1);
        KeptLines.Visit(reader, read);
        KeptLines.VisitSaving(reader, read);
        fault = reader.Fault ?? (reader.IsAtEnd ? Canonical(read, text) : "more lines than expected");
        record = fault.Length == 0 ? read : null;
        return fault.Length == 0;
    }

    /// <summary>Reads texts that stand one behind the other, as in the header of a recording.</summary>
    /// <param name="texts">The texts.</param>
    /// <exception cref="InvalidDataException">One of them is damaged; the message says what.</exception>
    public static IReadOnlyList<KeptRecord> ReadMany(ReadOnlySpan<byte> texts)
    {
        var records = new List<KeptRecord>();
        while (!texts.IsEmpty)
        {
            int hash = texts.IndexOf("\nsha256 "u8);
            int end = hash < 0 ? texts.Length : Math.Min(texts.Length, hash + 1 + HashLineBytes);
            if (!TryRead(texts[..end], out KeptRecord? record, out string fault))
            {
                throw new InvalidDataException("kept figures: " + fault);
            }

            records.Add(record!);
            texts = texts[end..];
        }

        return records;
    }

    private static string HashFault(ReadOnlySpan<byte> text)
    {
        if (text.Length is < HashLineBytes or > KeptTextWriter.BytesMax || text[^1] != (byte)'\n' || !text[^HashLineBytes..].StartsWith("sha256 "u8))
        {
            return $"{text.Length} bytes without a line \"sha256\" at the end; it was cut or is no such file";
        }

        string computed = Convert.ToHexStringLower(SHA256.HashData(text[..^HashLineBytes]));
        string stated = HashOf(text);
        return string.Equals(computed, stated, StringComparison.Ordinal) ? string.Empty : $"its SHA-256 is {computed}; its last line says {stated}";
    }

    private static string Canonical(KeptRecord record, ReadOnlySpan<byte> text)
    {
        var codec = new KeptCodec();
        codec.Write(record);
        return codec.Written.SequenceEqual(text) ? string.Empty : "a figure is written in another way than the guard writes it";
    }
}
