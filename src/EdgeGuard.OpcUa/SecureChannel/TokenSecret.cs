using System.Buffers.Binary;
using System.Security.Cryptography;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>
/// The secret of a user identity token (OPC 10000-4, legacy encrypted token secret format): a UInt32 length, the secret,
/// the server's last nonce, encrypted with the server's key over as many RSA blocks as needed. The nonce proves that the
/// secret was encrypted for this session and not recorded from another.
/// </summary>
public static class TokenSecret
{
    /// <summary>Longest secret accepted, bytes.</summary>
    public const int BytesMax = 1024;

    /// <summary>Encrypts for the server.</summary>
    public static byte[] Seal(SecurityPolicy policy, PeerCertificate server, ReadOnlySpan<byte> secret, ReadOnlySpan<byte> serverNonce)
    {
        byte[] plain = new byte[4 + secret.Length + serverNonce.Length];
        BinaryPrimitives.WriteInt32LittleEndian(plain, secret.Length + serverNonce.Length);
        secret.CopyTo(plain.AsSpan(4));
        serverNonce.CopyTo(plain.AsSpan(4 + secret.Length));
        byte[] cipher = new byte[PeerCrypto.CipherBytes(policy, server.KeyBytes, plain.Length)];
        PeerCrypto.Encrypt(policy, server, plain, cipher);
        CryptographicOperations.ZeroMemory(plain);
        return cipher;
    }

    /// <summary>Decrypts; BadIdentityTokenInvalid for whatever is wrong, so that a guesser learns nothing. The caller wipes the secret.</summary>
    public static StatusCode TryOpen(SecurityPolicy policy, ApplicationInstance server, ReadOnlySpan<byte> cipher, ReadOnlySpan<byte> serverNonce, out byte[] secret)
    {
        secret = [];
        if (cipher.Length > 4 * (BytesMax + server.KeyBytes))
        {
            return StatusCode.BadIdentityTokenInvalid;
        }

        byte[] plain = new byte[cipher.Length];
        bool decrypted = server.TryDecrypt(policy, cipher, plain, out int plainBytes);
        int secretBytes = decrypted && plainBytes >= 4 ? Length(plain.AsSpan(0, plainBytes), serverNonce.Length) : -1;
        bool valid = secretBytes >= 0 && CryptographicOperations.FixedTimeEquals(plain.AsSpan(4 + secretBytes, serverNonce.Length), serverNonce);
        if (valid)
        {
            secret = plain.AsSpan(4, secretBytes).ToArray();
        }

        CryptographicOperations.ZeroMemory(plain);
        return valid ? StatusCode.Good : StatusCode.BadIdentityTokenInvalid;
    }

    // The declared length counts secret and nonce; what follows in the last block is padding of some clients.
    private static int Length(ReadOnlySpan<byte> plain, int nonceBytes)
    {
        uint declared = BinaryPrimitives.ReadUInt32LittleEndian(plain);
        bool fits = declared <= (uint)(plain.Length - 4) && declared >= (uint)nonceBytes && declared - (uint)nonceBytes <= BytesMax;
        return fits ? (int)declared - nonceBytes : -1;
    }
}
