using System.Security.Cryptography.X509Certificates;

namespace EdgeGuard.Modbus.Security;

/// <summary>What both ends of Modbus/TCP Security need: who they are and whom they trust. TLS 1.2 or later, certificates on both sides.</summary>
public record ModbusTlsOptions
{
    /// <summary>Own certificate with its private key.</summary>
    public required X509Certificate2 Certificate { get; init; }

    /// <summary>Issuers whose certificates are trusted, and nobody else's: the authorities of the system do not count.</summary>
    public required X509Certificate2Collection TrustedIssuers { get; init; }

    /// <summary>Client: name or address that the server's certificate must carry; null takes the address that is connected.</summary>
    public string? ServerName { get; init; }

    internal virtual void Validate()
    {
        if (!Certificate.HasPrivateKey)
        {
            throw new ArgumentException("The own certificate comes without its private key: load both, for example from one PKCS #12 file.", nameof(Certificate));
        }

        if (TrustedIssuers.Count == 0)
        {
            throw new ArgumentException("No issuer is trusted, so no peer could ever be: add the certificate of the issuer of the other side.", nameof(TrustedIssuers));
        }
    }

    internal X509ChainPolicy ChainPolicy()
    {
        // No lists of revoked certificates are fetched: a plant network has no way to where they lie.
        X509ChainPolicy policy = new()
        {
            TrustMode = X509ChainTrustMode.CustomRootTrust,
            RevocationMode = X509RevocationMode.NoCheck,
            DisableCertificateDownloads = true,
        };
        policy.CustomTrustStore.AddRange(TrustedIssuers);
        return policy;
    }
}
