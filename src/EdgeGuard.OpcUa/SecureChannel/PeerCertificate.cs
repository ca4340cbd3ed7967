using System.Formats.Asn1;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>Certificate of the other side: the first of the chain that was sent, its RSA key and its thumbprint.</summary>
public sealed class PeerCertificate : IDisposable
{
    /// <summary>Longest certificate or chain that is looked at, in bytes.</summary>
    public const int BytesMax = 32_768;

    private PeerCertificate(byte[] chain, int leafBytes, X509Certificate2 certificate, RSA key)
    {
        (Chain, Certificate, Key) = (chain, certificate, key);
        Thumbprint = certificate.GetCertHash();
        LeafBytes = leafBytes;
    }

    /// <summary>All bytes that were sent: the certificate and its issuers, one after another.</summary>
    public byte[] Chain { get; }

    /// <summary>Length of the first certificate within <see cref="Chain"/>.</summary>
    public int LeafBytes { get; }

    /// <summary>The first certificate alone, DER.</summary>
    public ReadOnlySpan<byte> Der => Chain.AsSpan(0, LeafBytes);

    /// <summary>The first certificate.</summary>
    public X509Certificate2 Certificate { get; }

    /// <summary>SHA-1 over the DER form, 20 bytes (OPC 10000-6, 6.7.2.3: an identifier, not a protection).</summary>
    public byte[] Thumbprint { get; }

    /// <summary>Length of the RSA modulus in bytes.</summary>
    public int KeyBytes => (Key.KeySize + 7) / 8;

    internal RSA Key { get; }

    /// <summary>Parses; null with the cause when this is no certificate with an RSA key of the policy's length.</summary>
    public static PeerCertificate? TryLoad(ReadOnlySpan<byte> chain, SecurityPolicy policy, out CertificateVerdict refusal)
    {
        refusal = CertificateVerdict.Refuse(StatusCode.BadCertificateInvalid, "the bytes are not an X.509 certificate in DER form");
        if (chain.Length is 0 or > BytesMax || !AsnDecoder.TryReadEncodedValue(chain, AsnEncodingRules.DER, out _, out _, out _, out int leafBytes))
        {
            return null;
        }

        X509Certificate2? certificate = null;
        RSA? key = null;
        try
        {
            certificate = X509CertificateLoader.LoadCertificate(chain[..leafBytes]);
            key = certificate.GetRSAPublicKey();
            if (key is null || key.KeySize < policy.KeyBitsMin || key.KeySize > policy.KeyBitsMax)
            {
                refusal = CertificateVerdict.Refuse(
                    StatusCode.BadCertificatePolicyCheckFailed,
                    $"the key is {(key is null ? "not RSA" : key.KeySize + " bits long")}; {policy.Name} needs RSA with {policy.KeyBitsMin} to {policy.KeyBitsMax} bits");
                return null;
            }

            var peer = new PeerCertificate(chain.ToArray(), leafBytes, certificate, key);
            (certificate, key) = (null, null);
            return peer;
        }
        catch (CryptographicException)
        {
            return null;
        }
        finally
        {
            key?.Dispose();
            certificate?.Dispose();
        }
    }

    /// <summary>Frees certificate and key.</summary>
    public void Dispose()
    {
        Key.Dispose();
        Certificate.Dispose();
    }
}
