namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>Decides whether a peer's certificate is trusted. Called before any private-key operation is spent on the peer; may be called from several threads.</summary>
public interface ICertificateJudge
{
    /// <summary>Judges a certificate that parsed and whose key fits the policy.</summary>
    CertificateVerdict Judge(PeerCertificate certificate);

    /// <summary>Takes note of what was refused before it could be judged: bytes that are no certificate, or a key that does not fit the policy.</summary>
    /// <param name="sent">The bytes as they were sent.</param>
    /// <param name="refusal">The refusal.</param>
    void Refused(ReadOnlySpan<byte> sent, CertificateVerdict refusal)
    {
    }
}
