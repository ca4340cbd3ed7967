using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Security;

/// <summary>
/// Revocation (OPC 10000-4, 6.1.3, the last two steps): every certificate that another one issued needs a list of its
/// issuer that is in force. No list, an outdated list or one that verifies under no key refuses: what cannot be checked is
/// not trusted. A self-signed certificate is revoked by taking it out of the trusted ones.
/// </summary>
internal static class RevocationRules
{
    public static CertificateVerdict Check(List<CertificateFacts> chain, TrustTable trust, DateTime utcNow)
    {
        for (int i = 0; i + 1 < chain.Count; i++)
        {
            CertificateVerdict verdict = Check(chain[i], chain[i + 1], trust, utcNow, leaf: i == 0);
            if (!verdict.Trusted)
            {
                return verdict;
            }
        }

        return CertificateVerdict.Accept;
    }

    private static CertificateVerdict Check(CertificateFacts certificate, CertificateFacts issuer, TrustTable trust, DateTime utcNow, bool leaf)
    {
        StatusCode unknown = leaf ? StatusCode.BadCertificateRevocationUnknown : StatusCode.BadCertificateIssuerRevocationUnknown;
        RevocationList? list = Newest(issuer, trust, utcNow);
        if (list is null)
        {
            return CertificateVerdict.Refuse(unknown, $"no revocation list of {issuer.Subject} is in pki/crl, or none that it signed; try putting its current list there");
        }

        // A listed certificate stays refused when the list is outdated.
        if (list.RevokedUtc(certificate) is { } when)
        {
            return CertificateVerdict.Refuse(
                leaf ? StatusCode.BadCertificateRevoked : StatusCode.BadCertificateIssuerRevoked,
                $"revoked on {CertificateText.Of(when)} by {issuer.Subject}: {certificate.Subject}");
        }

        return list.NextUpdateUtc < utcNow
            ? CertificateVerdict.Refuse(unknown, $"the revocation list of {issuer.Subject} is outdated: the next one was due on {CertificateText.Of(list.NextUpdateUtc.Value)}; try putting its current list into pki/crl")
            : CertificateVerdict.Accept;
    }

    private static RevocationList? Newest(CertificateFacts issuer, TrustTable trust, DateTime utcNow)
    {
        RevocationList? newest = null;
        foreach (RevocationList list in trust.RevocationLists)
        {
            if (list.ThisUpdateUtc <= utcNow && (newest is null || list.ThisUpdateUtc > newest.ThisUpdateUtc) && list.IsOf(issuer))
            {
                newest = list;
            }
        }

        return newest;
    }
}
