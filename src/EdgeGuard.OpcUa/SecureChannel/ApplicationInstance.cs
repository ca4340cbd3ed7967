using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>
/// Certificate and private key of this application. One instance serves all connections: private-key operations are
/// serialised by a lock, because instances of RSA are not promised to be safe for several threads.
/// </summary>
public sealed class ApplicationInstance : IDisposable
{
    private readonly Lock _gate = new();
    private readonly RSA _key;

    /// <summary>Takes a certificate with its RSA private key.</summary>
    public ApplicationInstance(X509Certificate2 certificate)
    {
        ArgumentNullException.ThrowIfNull(certificate);
        _key = certificate.GetRSAPrivateKey() ?? throw new ArgumentException("the certificate has no RSA private key", nameof(certificate));
        Der = certificate.RawData;
        Thumbprint = certificate.GetCertHash();
    }

    /// <summary>The certificate in DER form.</summary>
    public byte[] Der { get; }

    /// <summary>SHA-1 over the DER form, 20 bytes.</summary>
    public byte[] Thumbprint { get; }

    /// <summary>Length of the RSA modulus in bytes.</summary>
    public int KeyBytes => (_key.KeySize + 7) / 8;

    /// <summary>Signs with the private key; the signature is <see cref="KeyBytes"/> long.</summary>
    public void Sign(SecurityPolicy policy, ReadOnlySpan<byte> data, Span<byte> signature)
    {
        lock (_gate)
        {
            _key.SignData(data, signature, HashAlgorithmName.SHA256, policy.SignaturePadding);
        }
    }

    /// <summary>Decrypts RSA blocks one after another; false when a block is not valid, without telling which or why.</summary>
    public bool TryDecrypt(SecurityPolicy policy, ReadOnlySpan<byte> blocks, Span<byte> plain, out int plainBytes)
    {
        plainBytes = 0;
        int blockBytes = KeyBytes;
        if (blocks.IsEmpty || blocks.Length % blockBytes != 0)
        {
            return false;
        }

        try
        {
            lock (_gate)
            {
                for (int at = 0; at < blocks.Length; at += blockBytes)
                {
                    plainBytes += _key.Decrypt(blocks.Slice(at, blockBytes), plain[plainBytes..], policy.EncryptionPadding);
                }
            }

            return true;
        }
        catch (CryptographicException)
        {
            return false;
        }
    }

    /// <summary>Wipes the key.</summary>
    public void Dispose() => _key.Dispose();
}
