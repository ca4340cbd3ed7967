namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>Judgement on a peer's certificate. The default value refuses.</summary>
public readonly struct CertificateVerdict
{
    private readonly StatusCode _refusal;

    private CertificateVerdict(bool trusted, StatusCode refusal, string? cause)
    {
        (Trusted, _refusal, Cause) = (trusted, refusal, cause);
    }

    /// <summary>The certificate is trusted.</summary>
    public static CertificateVerdict Accept { get; } = new(true, StatusCode.Good, null);

    /// <summary>Whether the peer may go on.</summary>
    public bool Trusted { get; }

    /// <summary>The precise status, for the log and for client applications; Good when trusted.</summary>
    public StatusCode Status => Trusted ? StatusCode.Good : _refusal == StatusCode.Good ? StatusCode.BadCertificateUntrusted : _refusal;

    /// <summary>
    /// What the peer is told (OPC 10000-4, 6.1.3): as long as structure, chain, signature, policy and trust are not proved it
    /// learns nothing but BadSecurityChecksFailed, and so does the holder of a revoked certificate; a peer that is trusted
    /// and has a certificate that does not fit learns what to correct.
    /// </summary>
    public StatusCode WireStatus => Status switch
    {
        StatusCode.Good => StatusCode.Good,
        StatusCode.BadCertificateTimeInvalid or StatusCode.BadCertificateIssuerTimeInvalid or StatusCode.BadCertificateHostNameInvalid
            or StatusCode.BadCertificateUriInvalid or StatusCode.BadCertificateUseNotAllowed or StatusCode.BadCertificateIssuerUseNotAllowed
            or StatusCode.BadCertificateRevocationUnknown or StatusCode.BadCertificateIssuerRevocationUnknown or StatusCode.BadCertificateIssuerRevoked => Status,
        _ => StatusCode.BadSecurityChecksFailed,
    };

    /// <summary>The plain cause of a refusal: what is wrong and what to do; null when trusted.</summary>
    public string? Cause { get; }

    /// <summary>A refusal.</summary>
    public static CertificateVerdict Refuse(StatusCode status, string cause) => new(false, status, cause);
}
