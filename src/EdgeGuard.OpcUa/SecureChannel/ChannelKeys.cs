using System.Security.Cryptography;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>
/// Keys of one direction under one token (OPC 10000-6, 6.7.5): signing key, AES key and initialisation vector, cut in this
/// order from P_SHA256. The vector is the same for every chunk. Hash and cipher are set up once and used for every chunk:
/// for a short message that set-up is most of the work. Not safe for several threads.
/// </summary>
public sealed class ChannelKeys : IDisposable
{
    private const int BlockBytes = 16;
    private readonly byte[] _iv;
    private readonly Aes _aes;
    private readonly IncrementalHash _hash;
    private ICryptoTransform? _encryptor;

    /// <summary>Derives the keys: the secret is the receiver's nonce, the seed the sender's.</summary>
    public ChannelKeys(SecurityPolicy policy, ReadOnlySpan<byte> receiverNonce, ReadOnlySpan<byte> senderNonce)
    {
        ArgumentNullException.ThrowIfNull(policy);
        byte[] material = new byte[policy.SigningKeyBytes + policy.EncryptionKeyBytes + BlockBytes];
        KeyDerivation.PSha256(receiverNonce, senderNonce, material);
        _hash = IncrementalHash.CreateHMAC(HashAlgorithmName.SHA256, material.AsSpan(0, policy.SigningKeyBytes));
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
    public void Sign(ReadOnlySpan<byte> data, Span<byte> signature)
    {
        _hash.AppendData(data);
        _hash.GetHashAndReset(signature);
    }

    /// <summary>Checks a signature in constant time.</summary>
    public bool Verify(ReadOnlySpan<byte> data, ReadOnlySpan<byte> signature)
    {
        Span<byte> expected = stackalloc byte[HMACSHA256.HashSizeInBytes];
        Sign(data, expected);
        return CryptographicOperations.FixedTimeEquals(expected, signature);
    }

    /// <summary>Encrypts whole blocks in place.</summary>
    /// <param name="buffer">What holds the blocks.</param>
    /// <param name="offset">Where they begin.</param>
    /// <param name="count">Bytes of whole blocks.</param>
    public void Encrypt(byte[] buffer, int offset, int count)
    {
        ArgumentNullException.ThrowIfNull(buffer);
        _encryptor ??= CreateEncryptor();
        _encryptor.TransformBlock(buffer, offset, count, buffer, offset);

        // The end of a message sets the cipher back to its vector.
        _encryptor.TransformFinalBlock([], 0, 0);
    }

    /// <summary>Decrypts whole blocks in place.</summary>
    public void Decrypt(Span<byte> blocks) => _aes.DecryptCbc(blocks, _iv, blocks, PaddingMode.None);

    /// <summary>Wipes the keys.</summary>
    public void Dispose()
    {
        _hash.Dispose();
        _encryptor?.Dispose();
        _aes.Dispose();
    }

    private ICryptoTransform CreateEncryptor()
    {
        (_aes.IV, _aes.Mode, _aes.Padding) = (_iv, CipherMode.CBC, PaddingMode.None);
        return _aes.CreateEncryptor();
    }
}
