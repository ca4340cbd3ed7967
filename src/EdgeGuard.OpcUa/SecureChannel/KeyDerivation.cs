using System.Security.Cryptography;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>P_SHA256, the pseudo-random function of RFC 5246, section 5, from which a token's keys are cut (OPC 10000-6, 6.7.5).</summary>
public static class KeyDerivation
{
    /// <summary>Fills <paramref name="output"/>: HMAC(secret, A(i) + seed) for i = 1, 2, …, where A(0) = seed and A(i) = HMAC(secret, A(i-1)).</summary>
    public static void PSha256(ReadOnlySpan<byte> secret, ReadOnlySpan<byte> seed, Span<byte> output)
    {
        const int HashBytes = HMACSHA256.HashSizeInBytes;
        Span<byte> block = stackalloc byte[HashBytes];
        byte[] input = new byte[HashBytes + seed.Length];
        Span<byte> a = input.AsSpan(0, HashBytes);
        seed.CopyTo(input.AsSpan(HashBytes));
        HMACSHA256.HashData(secret, seed, a);
        while (!output.IsEmpty)
        {
            HMACSHA256.HashData(secret, input, block);
            int take = Math.Min(HashBytes, output.Length);
            block[..take].CopyTo(output);
            output = output[take..];
            HMACSHA256.HashData(secret, a, block);
            block.CopyTo(a);
        }

        CryptographicOperations.ZeroMemory(input);
    }
}
