using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.SecureChannel;

/// <summary>Trusts everybody until told otherwise.</summary>
internal sealed class RevokingJudge : ICertificateJudge
{
    public bool Revoked { get; set; }

    public CertificateVerdict Judge(PeerCertificate certificate) =>
        Revoked ? CertificateVerdict.Refuse(StatusCode.BadCertificateRevoked, "revoked this morning") : CertificateVerdict.Accept;
}
