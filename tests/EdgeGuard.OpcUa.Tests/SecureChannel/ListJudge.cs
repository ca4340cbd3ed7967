using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.SecureChannel;

/// <summary>Trusts the certificates it was given.</summary>
internal sealed class ListJudge(params ApplicationInstance[] trusted) : ICertificateJudge
{
    public int Calls { get; private set; }

    public CertificateVerdict Judge(PeerCertificate certificate)
    {
        Calls++;
        return trusted.Any(t => t.Thumbprint.AsSpan().SequenceEqual(certificate.Thumbprint))
            ? CertificateVerdict.Accept
            : CertificateVerdict.Refuse(StatusCode.BadCertificateUntrusted, "not in the trust list");
    }
}
