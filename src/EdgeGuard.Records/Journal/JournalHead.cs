using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace EdgeGuard.Records.Journal;

/// <summary>
/// The head record: where the durable journal ends. Fixed size and rewritten in place after each sync, never before,
/// so it is never ahead of what is on the medium; whole lines removed from the end of the journal show only against
/// it. Its own checksum is SHA-256 over everything before " check=".
/// </summary>
/// <param name="Number">Number of the last durable line, 0 before the first.</param>
/// <param name="Segment">Segment that holds it.</param>
/// <param name="Length">Bytes of that segment up to and with that line.</param>
/// <param name="Hash">Hash of that line.</param>
public sealed record JournalHead(long Number, int Segment, long Length, string Hash)
{
    /// <summary>Bytes of the record with its newline.</summary>
    public const int Size = 215;

    /// <summary>Bytes of the record.</summary>
    public byte[] ToBytes()
    {
        string body = string.Create(CultureInfo.InvariantCulture, $"edgeguard-head 1 n={Number:D19} segment={Segment:D6} length={Length:D12} hash={Hash}");
        return Encoding.ASCII.GetBytes(body + " check=" + Convert.ToHexStringLower(SHA256.HashData(Encoding.ASCII.GetBytes(body))) + "\n");
    }

    /// <summary>Reads a record; anything that is not byte for byte what <see cref="ToBytes"/> writes is refused.</summary>
    /// <param name="bytes">Content of the head file.</param>
    /// <returns>The record, or null when it is damaged.</returns>
    public static JournalHead? Parse(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length != Size || bytes.IndexOfAnyExceptInRange((byte)0x0a, (byte)0x7e) >= 0)
        {
            return null;
        }

        string[] parts = Encoding.ASCII.GetString(bytes).Split(' ');
        if (parts.Length != 7 || !TryNumber(parts[2], "n=", out long number) || !TryNumber(parts[3], "segment=", out long segment)
            || !TryNumber(parts[4], "length=", out long length) || segment > 999_999 || !parts[5].StartsWith("hash=", StringComparison.Ordinal))
        {
            return null;
        }

        var head = new JournalHead(number, (int)segment, length, parts[5]["hash=".Length..]);
        return bytes.SequenceEqual(head.ToBytes()) ? head : null;
    }

    private static bool TryNumber(string part, string key, out long value)
    {
        value = 0;
        return part.StartsWith(key, StringComparison.Ordinal) && long.TryParse(part.AsSpan(key.Length), NumberStyles.None, CultureInfo.InvariantCulture, out value);
    }
}
