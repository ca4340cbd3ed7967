using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.Corpus;

/// <summary>Trusts every certificate, so that an attack is not over before it begins.</summary>
internal sealed class AcceptingJudge : ICertificateJudge
{
    public CertificateVerdict Judge(PeerCertificate certificate) => CertificateVerdict.Accept;
}
