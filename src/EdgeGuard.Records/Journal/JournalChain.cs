using System.Security.Cryptography;
using System.Text;

namespace EdgeGuard.Records.Journal;

/// <summary>
/// The hash chain of the journal, nothing else: the hash of a line is SHA-256 (FIPS 180-4) over the 64 hexadecimal
/// characters of the previous line's hash followed by the bytes of the line's body. Because the previous hash enters
/// as the characters that stand in the file, `printf %s%s "$previous" "$body" | sha256sum` recomputes it.
/// </summary>
public static class JournalChain
{
    /// <summary>Characters of a hash in the file.</summary>
    public const int HashLength = 64;

    private static readonly System.Buffers.SearchValues<byte> HexDigits = System.Buffers.SearchValues.Create("0123456789abcdef"u8);

    /// <summary>The hash that stands before the first line of all: 64 zeros.</summary>
    public static string Start { get; } = new('0', HashLength);

    /// <summary>Computes the hash of a line.</summary>
    /// <param name="previousHash">Hash of the line before, 64 lower-case hexadecimal characters.</param>
    /// <param name="body">Bytes of the body, without the tab.</param>
    /// <returns>64 lower-case hexadecimal characters.</returns>
    public static string Next(string previousHash, ReadOnlySpan<byte> body)
    {
        ArgumentNullException.ThrowIfNull(previousHash);
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(Encoding.ASCII.GetBytes(previousHash));
        hash.AppendData(body);
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    /// <summary>Whether bytes are a hash as it stands in the file: 64 lower-case hexadecimal characters.</summary>
    /// <param name="text">Bytes to judge.</param>
    public static bool IsHash(ReadOnlySpan<byte> text) =>
        text.Length == HashLength && text.IndexOfAnyExcept(HexDigits) < 0;
}
