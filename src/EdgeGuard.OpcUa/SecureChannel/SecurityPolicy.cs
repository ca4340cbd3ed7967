using System.Security.Cryptography;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>
/// Algorithms of a security policy (OPC 10000-7). Only policies that are not withdrawn: Basic128Rsa15 and Basic256 are left
/// out on purpose.
/// </summary>
public sealed class SecurityPolicy
{
    private const string UriPrefix = "http://opcfoundation.org/UA/SecurityPolicy#";
    private const string RsaSha256 = "http://www.w3.org/2001/04/xmldsig-more#rsa-sha256";
    private const string RsaOaepSha1 = "http://www.w3.org/2001/04/xmlenc#rsa-oaep";

    private SecurityPolicy(string name)
    {
        Name = name;
    }

    /// <summary>No security.</summary>
    public static SecurityPolicy None { get; } = new("None") { SignaturePadding = RSASignaturePadding.Pkcs1, EncryptionPadding = RSAEncryptionPadding.OaepSHA1 };

    /// <summary>RSA PKCS#1 v1.5 and OAEP-SHA1, AES-256-CBC, HMAC-SHA256.</summary>
    public static SecurityPolicy Basic256Sha256 { get; } = new("Basic256Sha256")
    {
        SignaturePadding = RSASignaturePadding.Pkcs1,
        EncryptionPadding = RSAEncryptionPadding.OaepSHA1,
        SignatureAlgorithmUri = RsaSha256,
        EncryptionAlgorithmUri = RsaOaepSha1,
        EncryptionKeyBytes = 32,
    };

    /// <summary>RSA PKCS#1 v1.5 and OAEP-SHA1, AES-128-CBC, HMAC-SHA256.</summary>
    public static SecurityPolicy Aes128Sha256RsaOaep { get; } = new("Aes128_Sha256_RsaOaep")
    {
        SignaturePadding = RSASignaturePadding.Pkcs1,
        EncryptionPadding = RSAEncryptionPadding.OaepSHA1,
        SignatureAlgorithmUri = RsaSha256,
        EncryptionAlgorithmUri = RsaOaepSha1,
        EncryptionKeyBytes = 16,
    };

    /// <summary>RSA PSS and OAEP-SHA256, AES-256-CBC, HMAC-SHA256.</summary>
    public static SecurityPolicy Aes256Sha256RsaPss { get; } = new("Aes256_Sha256_RsaPss")
    {
        SignaturePadding = RSASignaturePadding.Pss,
        EncryptionPadding = RSAEncryptionPadding.OaepSHA256,
        SignatureAlgorithmUri = "http://opcfoundation.org/UA/security/rsa-pss-sha2-256",
        EncryptionAlgorithmUri = "http://opcfoundation.org/UA/security/rsa-oaep-sha2-256",
        EncryptionKeyBytes = 32,
    };

    /// <summary>All policies, weakest first.</summary>
    public static IReadOnlyList<SecurityPolicy> All { get; } = [None, Aes128Sha256RsaOaep, Basic256Sha256, Aes256Sha256RsaPss];

    /// <summary>Name after the hash sign.</summary>
    public string Name { get; }

    /// <summary>URI as on the wire.</summary>
    public string Uri => UriPrefix + Name;

    /// <summary>Whether messages can be secured at all.</summary>
    public bool IsSecure => EncryptionKeyBytes > 0;

    /// <summary>URI of the asymmetric signature, for SignatureData.</summary>
    public string? SignatureAlgorithmUri { get; private init; }

    /// <summary>URI of the asymmetric encryption, for user identity tokens.</summary>
    public string? EncryptionAlgorithmUri { get; private init; }

    /// <summary>Length of the derived signing key in bytes.</summary>
    public int SigningKeyBytes => IsSecure ? 32 : 0;

    /// <summary>Length of the derived AES key in bytes; 0 for None.</summary>
    public int EncryptionKeyBytes { get; private init; }

    /// <summary>Length of nonces in bytes; 0 for None (a session's nonce is 32 bytes even then).</summary>
    public int NonceBytes => IsSecure ? 32 : 0;

    /// <summary>Least RSA key in bits.</summary>
    public int KeyBitsMin { get; private init; } = 2048;

    /// <summary>Largest RSA key in bits.</summary>
    public int KeyBitsMax { get; private init; } = 4096;

    internal RSASignaturePadding SignaturePadding { get; private init; } = RSASignaturePadding.Pkcs1;

    internal RSAEncryptionPadding EncryptionPadding { get; private init; } = RSAEncryptionPadding.OaepSHA1;

    // OAEP takes two hashes and two bytes of each block (RFC 8017, 7.1.1).
    internal int OaepOverheadBytes => EncryptionPadding == RSAEncryptionPadding.OaepSHA256 ? 66 : 42;

    /// <summary>The policy with this URI, or null.</summary>
    public static SecurityPolicy? Find(string? uri)
    {
        foreach (SecurityPolicy policy in All)
        {
            if (string.Equals(policy.Uri, uri, StringComparison.Ordinal))
            {
                return policy;
            }
        }

        return null;
    }
}
