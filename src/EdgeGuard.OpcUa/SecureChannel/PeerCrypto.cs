using System.Security.Cryptography;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>Public-key operations with the other side's certificate.</summary>
public static class PeerCrypto
{
    /// <summary>Checks a signature of the peer.</summary>
    public static bool Verify(SecurityPolicy policy, PeerCertificate peer, ReadOnlySpan<byte> data, ReadOnlySpan<byte> signature)
    {
        try
        {
            return peer.Key.VerifyData(data, signature, HashAlgorithmName.SHA256, policy.SignaturePadding);
        }
        catch (CryptographicException)
        {
            return false;
        }
    }

    /// <summary>Bytes of plain text that one RSA block takes.</summary>
    public static int PlainBlockBytes(SecurityPolicy policy, int keyBytes) => keyBytes - policy.OaepOverheadBytes;

    /// <summary>Length of the cipher text of <paramref name="plainBytes"/> bytes.</summary>
    public static int CipherBytes(SecurityPolicy policy, int keyBytes, int plainBytes)
    {
        int block = PlainBlockBytes(policy, keyBytes);
        return (plainBytes + block - 1) / block * keyBytes;
    }

    /// <summary>Encrypts for the peer, over as many RSA blocks as needed.</summary>
    public static void Encrypt(SecurityPolicy policy, PeerCertificate peer, ReadOnlySpan<byte> plain, Span<byte> cipher)
    {
        int block = PlainBlockBytes(policy, peer.KeyBytes);
        while (!plain.IsEmpty)
        {
            int take = Math.Min(block, plain.Length);
            peer.Key.Encrypt(plain[..take], cipher[..peer.KeyBytes], policy.EncryptionPadding);
            plain = plain[take..];
            cipher = cipher[peer.KeyBytes..];
        }
    }
}
