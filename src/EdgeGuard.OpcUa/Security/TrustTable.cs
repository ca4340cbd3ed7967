namespace EdgeGuard.OpcUa.Security;

/// <summary>Whom to trust, at one moment: what the administrator put into the folders. Empty trusts nobody.</summary>
public sealed record TrustTable
{
    /// <summary>Nobody.</summary>
    public static TrustTable Empty { get; } = new();

    /// <summary>Trusted applications (or users) and trusted issuers.</summary>
    public IReadOnlyList<CertificateFacts> Trusted { get; init; } = [];

    /// <summary>Issuers that only complete chains; being here is no trust.</summary>
    public IReadOnlyList<CertificateFacts> Issuers { get; init; } = [];

    /// <summary>Revocation lists.</summary>
    public IReadOnlyList<RevocationList> RevocationLists { get; init; } = [];

    /// <summary>Files that could not be used, with the cause.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>Whether exactly this certificate was put among the trusted ones.</summary>
    public bool IsTrusted(CertificateFacts certificate)
    {
        ArgumentNullException.ThrowIfNull(certificate);
        foreach (CertificateFacts trusted in Trusted)
        {
            if (trusted.Der.AsSpan().SequenceEqual(certificate.Der))
            {
                return true;
            }
        }

        return false;
    }
}
