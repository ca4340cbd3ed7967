using System.Security.Cryptography.X509Certificates;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Security;

/// <summary>
/// Judges a certificate by the steps of OPC 10000-4, 6.1.3, in their order: structure, chain, signature, security policy,
/// trust, validity, application URI, usage, revocation. The host name is not checked: the peers judged here are clients and
/// people, and a discovery server, which is known by its certificate alone. Nothing is suppressed. The first step that fails decides, with a status and a plain cause.
/// </summary>
public static class CertificateRules
{
    private const int KeyBitsMin = 2048;
    private const int KeyBitsMax = 4096;
    private const string ServerAuthentication = "1.3.6.1.5.5.7.3.1"; // RFC 5280, 4.2.1.12
    private const string ClientAuthentication = "1.3.6.1.5.5.7.3.2";
    private const string AnyUsage = "2.5.29.37.0";

    /// <summary>Judges a certificate as it was sent, with or without its issuers behind it.</summary>
    /// <param name="sent">Certificates in DER form, one after another.</param>
    /// <param name="trust">Whom to trust.</param>
    /// <param name="utcNow">Time of day.</param>
    /// <param name="purpose">What it is shown for.</param>
    public static CertificateVerdict Judge(ReadOnlySpan<byte> sent, TrustTable trust, DateTime utcNow, CertificatePurpose purpose)
    {
        ArgumentNullException.ThrowIfNull(trust);
        List<CertificateFacts>? certificates = CertificateChain.Split(sent, out string fault);
        if (certificates is null)
        {
            return CertificateVerdict.Refuse(StatusCode.BadCertificateInvalid, "damaged: " + fault);
        }

        List<CertificateFacts>? chain = CertificateChain.Build(certificates, trust, utcNow, out CertificateVerdict refusal);
        return chain is null ? refusal : Judge(chain, trust, utcNow, purpose);
    }

    /// <summary>Whether the application URI that a client states is the one of its certificate (OPC 10000-4, CreateSession).</summary>
    public static CertificateVerdict CheckApplicationUri(CertificateFacts certificate, string? applicationUri)
    {
        ArgumentNullException.ThrowIfNull(certificate);
        foreach (string uri in certificate.Uris)
        {
            if (string.Equals(uri, applicationUri, StringComparison.Ordinal))
            {
                return CertificateVerdict.Accept;
            }
        }

        string found = certificate.Uris.Count == 0 ? "none" : string.Join(", ", certificate.Uris.Take(5).Select(CertificateText.Of));
        return CertificateVerdict.Refuse(
            StatusCode.BadCertificateUriInvalid,
            $"application URI differs: found {found} in the certificate, expected {CertificateText.Of(applicationUri)} as the client describes itself; try a new certificate on the client");
    }

    private static CertificateVerdict Judge(List<CertificateFacts> chain, TrustTable trust, DateTime utcNow, CertificatePurpose purpose)
    {
        CertificateVerdict verdict = CheckPolicy(chain);
        verdict = verdict.Trusted ? CheckTrust(chain, trust) : verdict;
        verdict = verdict.Trusted ? CheckValidity(chain, utcNow) : verdict;
        verdict = verdict.Trusted && purpose != CertificatePurpose.User ? CheckUri(chain[0]) : verdict;
        verdict = verdict.Trusted ? CheckUsage(chain[0], purpose) : verdict;
        verdict = verdict.Trusted ? CheckIssuers(chain) : verdict;
        verdict = verdict.Trusted ? RevocationRules.Check(chain, trust, utcNow) : verdict;
        return verdict.Trusted ? PlatformOpinion.Of(chain, utcNow) : verdict;
    }

    private static CertificateVerdict CheckPolicy(List<CertificateFacts> chain)
    {
        foreach (CertificateFacts certificate in chain)
        {
            bool leaf = ReferenceEquals(certificate, chain[0]);
            (int bitsMin, int bitsMax) = leaf ? (KeyBitsMin, KeyBitsMax) : (RsaSignature.IssuerKeyBitsMin, RsaSignature.IssuerKeyBitsMax);
            if (certificate.KeyBits < bitsMin || certificate.KeyBits > bitsMax)
            {
                string found = certificate.KeyBits == 0 ? "not RSA" : certificate.KeyBits < bitsMin ? $"key too short: {certificate.KeyBits} bits" : $"key too long: {certificate.KeyBits} bits";
                return Refuse(StatusCode.BadCertificatePolicyCheckFailed, $"{found} in {certificate.Subject}; expected RSA with {bitsMin} to {bitsMax} bits");
            }

            if (certificate.UnknownCriticalOid is { } oid)
            {
                return Refuse(StatusCode.BadCertificateInvalid, $"{certificate.Subject} has the critical extension {oid}, which is not understood here (RFC 5280, 4.2)");
            }
        }

        return CertificateVerdict.Accept;
    }

    private static CertificateVerdict CheckTrust(List<CertificateFacts> chain, TrustTable trust) => chain.Exists(trust.IsTrusted)
        ? CertificateVerdict.Accept
        : Refuse(StatusCode.BadCertificateUntrusted, $"not trusted: {chain[0].Subject}, thumbprint {chain[0].Thumbprint}; if it is known, try: edgeguard certs trust {chain[0].Thumbprint}");

    private static CertificateVerdict CheckValidity(List<CertificateFacts> chain, DateTime utcNow)
    {
        foreach (CertificateFacts certificate in chain)
        {
            StatusCode status = ReferenceEquals(certificate, chain[0]) ? StatusCode.BadCertificateTimeInvalid : StatusCode.BadCertificateIssuerTimeInvalid;
            if (utcNow > certificate.NotAfterUtc)
            {
                return Refuse(status, $"expired on {CertificateText.Of(certificate.NotAfterUtc)}: {certificate.Subject}; try a new certificate");
            }

            if (utcNow < certificate.NotBeforeUtc)
            {
                return Refuse(status, $"not yet valid: {certificate.Subject} is valid from {CertificateText.Of(certificate.NotBeforeUtc)}, here it is {CertificateText.Of(utcNow)}; try comparing the clocks of both machines");
            }
        }

        return CertificateVerdict.Accept;
    }

    private static CertificateVerdict CheckUri(CertificateFacts leaf) => leaf.Uris.Count > 0
        ? CertificateVerdict.Accept
        : Refuse(StatusCode.BadCertificateUriInvalid, $"no application URI among the alternative names of {leaf.Subject} (OPC 10000-6, 6.2.2); try a new certificate on the client");

    // OPC 10000-6, 6.2.2. The key signs, and messages and nonces are encrypted for it; clients in the field set either of
    // the two encipherment bits or both, so that one is enough. A certificate without the extension is not restricted (RFC 5280).
    private static CertificateVerdict CheckUsage(CertificateFacts leaf, CertificatePurpose purpose)
    {
        const X509KeyUsageFlags Encipherment = X509KeyUsageFlags.KeyEncipherment | X509KeyUsageFlags.DataEncipherment;
        bool application = purpose != CertificatePurpose.User;
        (string wanted, string name) = purpose == CertificatePurpose.ServerApplication ? (ServerAuthentication, "server") : (ClientAuthentication, "client");
        if (leaf.KeyUsages is { } usages && (!usages.HasFlag(X509KeyUsageFlags.DigitalSignature) || (application && (usages & Encipherment) == X509KeyUsageFlags.None)))
        {
            return Refuse(StatusCode.BadCertificateUseNotAllowed, $"wrong usage: {leaf.Subject} has key usage {usages}; expected DigitalSignature{(application ? " and KeyEncipherment or DataEncipherment" : "")}");
        }

        if (application && leaf.EnhancedUsages is { } enhanced && !enhanced.Contains(wanted, StringComparer.Ordinal) && !enhanced.Contains(AnyUsage, StringComparer.Ordinal))
        {
            return Refuse(StatusCode.BadCertificateUseNotAllowed, $"wrong usage: {leaf.Subject} is not for {name} authentication ({wanted} among the enhanced key usages)");
        }

        return CertificateVerdict.Accept;
    }

    // RFC 5280, 6.1.4 (k), (m), (n): an issuer is an authority, its path is no longer than it allows, and it may sign certificates.
    private static CertificateVerdict CheckIssuers(List<CertificateFacts> chain)
    {
        int between = 0;
        foreach (CertificateFacts issuer in chain.Skip(1))
        {
            bool maySign = issuer.KeyUsages is not { } usages || usages.HasFlag(X509KeyUsageFlags.KeyCertSign);
            if (!issuer.IsAuthority || !maySign || issuer.PathLengthMax < between)
            {
                return Refuse(
                    StatusCode.BadCertificateIssuerUseNotAllowed,
                    $"wrong usage: {issuer.Subject} issued a certificate and must not ({(!issuer.IsAuthority ? "it is no authority" : !maySign ? "its key usage has no KeyCertSign" : "its path length is exceeded")})");
            }

            between += issuer.IsSelfIssued ? 0 : 1;
        }

        return CertificateVerdict.Accept;
    }

    private static CertificateVerdict Refuse(StatusCode status, string cause) => CertificateVerdict.Refuse(status, cause);
}
