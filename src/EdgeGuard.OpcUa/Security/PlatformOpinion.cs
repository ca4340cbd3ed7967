using System.Security.Cryptography.X509Certificates;
using System.Security.Cryptography;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Security;

/// <summary>
/// The platform's own path validation as a second judge of chains: it can only add a refusal, never lift one. It is given
/// the whole chain and must not look anything up in the network.
/// </summary>
internal static class PlatformOpinion
{
    public static CertificateVerdict Of(List<CertificateFacts> chain, DateTime utcNow)
    {
        if (chain.Count == 1)
        {
            return CertificateVerdict.Accept;
        }

        var certificates = new List<X509Certificate2>();
        try
        {
            foreach (CertificateFacts facts in chain)
            {
                certificates.Add(X509CertificateLoader.LoadCertificate(facts.Der));
            }

            return Build(certificates, utcNow);
        }
        catch (CryptographicException e)
        {
            return CertificateVerdict.Refuse(StatusCode.BadCertificateInvalid, "damaged: the platform cannot read the chain: " + CertificateText.Of(e.Message));
        }
        finally
        {
            certificates.ForEach(static c => c.Dispose());
        }
    }

    private static CertificateVerdict Build(List<X509Certificate2> certificates, DateTime utcNow)
    {
        using var chain = new X509Chain();
        chain.ChainPolicy.DisableCertificateDownloads = true;
        chain.ChainPolicy.RevocationMode = X509RevocationMode.NoCheck;
        chain.ChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
        chain.ChainPolicy.VerificationTime = utcNow.ToLocalTime();
        chain.ChainPolicy.CustomTrustStore.Add(certificates[^1]);
        chain.ChainPolicy.ExtraStore.AddRange(certificates.Skip(1).ToArray());
        bool valid = chain.Build(certificates[0]);
        string causes = string.Join(", ", chain.ChainStatus.Select(static s => s.Status.ToString()));
        foreach (X509ChainElement element in chain.ChainElements)
        {
            element.Certificate.Dispose();
        }

        return valid ? CertificateVerdict.Accept : CertificateVerdict.Refuse(StatusCode.BadCertificateInvalid, "the platform's path validation refuses the chain: " + causes);
    }
}
