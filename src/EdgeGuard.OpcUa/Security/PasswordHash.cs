using System.Security.Cryptography;

namespace EdgeGuard.OpcUa.Security;

/// <summary>
/// A password as it is stored: PBKDF2 with HMAC-SHA-256 (RFC 8018, 5.2), a random salt, many iterations. The bytes of the
/// password are taken as the client sends them (UTF-8), without normalisation.
/// </summary>
public sealed class PasswordHash
{
    /// <summary>Least number of iterations that is accepted, also from a file.</summary>
    public const int IterationsMin = 210_000;

    /// <summary>Largest number of iterations that is accepted: bounds the time a login costs.</summary>
    public const int IterationsMax = 5_000_000;

    /// <summary>Length of the stored hash, bytes.</summary>
    public const int HashBytes = 32;

    /// <summary>Least length of the salt, bytes.</summary>
    public const int SaltBytesMin = 16;

    /// <summary>Least length of a password, bytes.</summary>
    public const int PasswordBytesMin = 8;

    /// <summary>Largest length of a password, bytes.</summary>
    public const int PasswordBytesMax = 256;

    private const int SaltBytesMax = 64;

    // Equal work for a user who does not exist, so that the time tells a guesser nothing.
    private static readonly PasswordHash Nobody = new(RandomNumberGenerator.GetBytes(SaltBytesMin), IterationsMin, RandomNumberGenerator.GetBytes(HashBytes));

    private PasswordHash(byte[] salt, int iterations, byte[] hash)
    {
        (Salt, Iterations, Hash) = (salt, iterations, hash);
    }

    /// <summary>Random salt.</summary>
    public byte[] Salt { get; }

    /// <summary>Iterations.</summary>
    public int Iterations { get; }

    /// <summary>The derived 32 bytes.</summary>
    public byte[] Hash { get; }

    /// <summary>Hashes a new password under a fresh salt.</summary>
    public static PasswordHash Create(ReadOnlySpan<byte> password)
    {
        if (password.Length is < PasswordBytesMin or > PasswordBytesMax)
        {
            throw new ArgumentException($"password: found {password.Length} bytes; expected {PasswordBytesMin} to {PasswordBytesMax}", nameof(password));
        }

        byte[] salt = RandomNumberGenerator.GetBytes(SaltBytesMin);
        return new PasswordHash(salt, IterationsMin, Derive(password, salt, IterationsMin, HashBytes));
    }

    /// <summary>Takes a stored hash; null with the fault when it is weaker than allowed or malformed.</summary>
    public static PasswordHash? TryRestore(byte[]? salt, int iterations, byte[]? hash, out string fault)
    {
        fault = salt is not { Length: >= SaltBytesMin and <= SaltBytesMax } ? $"salt: expected {SaltBytesMin} to {SaltBytesMax} bytes"
            : iterations is < IterationsMin or > IterationsMax ? $"iterations: found {iterations}; expected {IterationsMin} to {IterationsMax}"
            : hash is not { Length: HashBytes } ? $"hash: expected {HashBytes} bytes"
            : "";
        return fault.Length == 0 ? new PasswordHash(salt!, iterations, hash!) : null;
    }

    /// <summary>Whether this is the password; null stands for a user who has none and takes as long.</summary>
    public static bool Matches(PasswordHash? stored, ReadOnlySpan<byte> password)
    {
        PasswordHash compared = stored ?? Nobody;
        bool fits = password.Length <= PasswordBytesMax;
        byte[] derived = Derive(fits ? password : [], compared.Salt, compared.Iterations, HashBytes);
        bool equal = CryptographicOperations.FixedTimeEquals(derived, compared.Hash);
        CryptographicOperations.ZeroMemory(derived);
        return equal && fits && stored is not null;
    }

    internal static byte[] Derive(ReadOnlySpan<byte> password, byte[] salt, int iterations, int bytes) =>
        Rfc2898DeriveBytes.Pbkdf2(password, salt, iterations, HashAlgorithmName.SHA256, bytes);
}
