namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>Decides whether a peer's certificate is trusted. Called before any private-key operation is spent on the peer; may be called from several threads.</summary>
public interface ICertificateJudge
{
    /// <summary>Judges a certificate that parsed and whose key fits the policy.</summary>
    CertificateVerdict Judge(PeerCertificate certificate);
}
