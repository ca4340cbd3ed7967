using System.Security.Cryptography;

namespace EdgeGuard.OpcUa.Security;

/// <summary>Signatures under certificates and revocation lists. The policies of OPC 10000-7 that are offered ask for RSA with SHA-2.</summary>
internal static class RsaSignature
{
    /// <summary>Least RSA key of an issuer, bits.</summary>
    public const int IssuerKeyBitsMin = 2048;

    /// <summary>Largest RSA key of an issuer, bits: bounds the time a foreign certificate can cost.</summary>
    public const int IssuerKeyBitsMax = 8192;

    /// <summary>Hash of an accepted algorithm (RFC 8017, A.2.4), or null.</summary>
    public static HashAlgorithmName? Hash(string oid) => oid switch
    {
        "1.2.840.113549.1.1.11" => HashAlgorithmName.SHA256,
        "1.2.840.113549.1.1.12" => HashAlgorithmName.SHA384,
        "1.2.840.113549.1.1.13" => HashAlgorithmName.SHA512,
        _ => null,
    };

    /// <summary>Name of an algorithm for people.</summary>
    public static string Name(string oid) => oid switch
    {
        "1.2.840.113549.1.1.4" => "MD5 with RSA",
        "1.2.840.113549.1.1.5" => "SHA-1 with RSA",
        "1.2.840.113549.1.1.10" => "RSASSA-PSS",
        "1.2.840.113549.1.1.11" => "SHA-256 with RSA",
        "1.2.840.113549.1.1.12" => "SHA-384 with RSA",
        "1.2.840.113549.1.1.13" => "SHA-512 with RSA",
        "1.2.840.10045.4.3.2" => "SHA-256 with ECDSA",
        _ => oid,
    };

    public static bool Verify(string oid, CertificateFacts signer, byte[] data, byte[] signature)
    {
        if (Hash(oid) is not { } hash || signer.KeyBits is 0 or > IssuerKeyBitsMax)
        {
            return false;
        }

        try
        {
            using var key = RSA.Create();
            key.ImportSubjectPublicKeyInfo(signer.PublicKeyInfo, out _);
            return key.VerifyData(data, signature, hash, RSASignaturePadding.Pkcs1);
        }
        catch (CryptographicException)
        {
            return false;
        }
    }
}
