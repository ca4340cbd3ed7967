using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.Benchmarks;

/// <summary>Trusts every certificate: trust is not what is measured.</summary>
internal sealed class AcceptAll : ICertificateJudge
{
    public CertificateVerdict Judge(PeerCertificate certificate) => CertificateVerdict.Accept;
}
