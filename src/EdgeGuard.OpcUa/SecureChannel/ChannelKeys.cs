using System.Security.Cryptography;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>
/// Keys of one direction under one token (OPC 10000-6, 6.7.5): signing key, AES key and initialisation vector, cut in this
/// order from P_SHA256. The vector is the same for every chunk.
/// </summary>
public sealed class ChannelKeys : IDisposable
{
    private const int BlockBytes = 16;
    private readonly byte[] _signingKey;
    private readonly byte[] _iv;
    private readonly Aes _aes;

    /// <summary>Derives the keys: the secret is the receiver's nonce, the seed the sender's.</summary>
    public ChannelKeys(SecurityPolicy policy, ReadOnlySpan<byte> receiverNonce, ReadOnlySpan<byte> senderNonce)
    {
        ArgumentNullException.ThrowIfNull(policy);
        byte[] material = new byte[policy.SigningKeyBytes + policy.EncryptionKeyBytes + BlockBytes];
        KeyDerivation.PSha256(receiverNonce, senderNonce, material);
        _signingKey = material[..policy.SigningKeyBytes];
        _iv = material[^BlockBytes..];
        _aes = Aes.Create();
        _aes.Key = material[policy.SigningKeyBytes..^BlockBytes];
        CryptographicOperations.ZeroMemory(material);
    }

    /// <summary>Length of a signature in bytes.</summary>
    public static int SignatureBytes => HMACSHA256.HashSizeInBytes;

    /// <summary>Length of a cipher block in bytes.</summary>
    public static int CipherBlockBytes => BlockBytes;

    /// <summary>Signs.</summary>
    public void Sign(ReadOnlySpan<byte> data, Span<byte> signature) => HMACSHA256.HashData(_signingKey, data, signature);

    /// <summary>Checks a signature in constant time.</summary>
    public bool Verify(ReadOnlySpan<byte> data, ReadOnlySpan<byte> signature)
    {
        Span<byte> expected = stackalloc byte[HMACSHA256.HashSizeInBytes];
        HMACSHA256.HashData(_signingKey, data, expected);
        return CryptographicOperations.FixedTimeEquals(expected, signature);
    }

    /// <summary>Encrypts whole blocks in place.</summary>
    public void Encrypt(Span<byte> blocks) => _aes.EncryptCbc(blocks, _iv, blocks, PaddingMode.None);

    /// <summary>Decrypts whole blocks in place.</summary>
    public void Decrypt(Span<byte> blocks) => _aes.DecryptCbc(blocks, _iv, blocks, PaddingMode.None);

    /// <summary>Wipes the keys.</summary>
    public void Dispose()
    {
        CryptographicOperations.ZeroMemory(_signingKey);
        _aes.Dispose();
    }
}
