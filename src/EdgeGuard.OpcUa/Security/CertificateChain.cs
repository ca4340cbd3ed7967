using System.Formats.Asn1;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Security;

/// <summary>
/// Builds the chain from a certificate to its self-signed end out of what the peer sent and what is on disk (OPC 10000-4,
/// 6.1.3: structure, chain, signature). Nothing is fetched from the network.
/// </summary>
internal static class CertificateChain
{
    /// <summary>Most certificates in a chain.</summary>
    public const int LengthMax = 8;

    /// <summary>The certificates that were sent one after another; null when the bytes are anything else.</summary>
    public static List<CertificateFacts>? Split(ReadOnlySpan<byte> sent, out string fault)
    {
        var chain = new List<CertificateFacts>();
        fault = "it is empty";
        while (!sent.IsEmpty)
        {
            if (chain.Count == LengthMax)
            {
                fault = $"more than {LengthMax} certificates were sent";
                return null;
            }

            if (!AsnDecoder.TryReadEncodedValue(sent, AsnEncodingRules.DER, out _, out _, out _, out int bytes))
            {
                fault = "it is no X.509 certificate in DER form, or it is cut off";
                return null;
            }

            CertificateFacts? certificate = CertificateFacts.TryRead(sent[..bytes], out fault);
            if (certificate is null)
            {
                return null;
            }

            chain.Add(certificate);
            sent = sent[bytes..];
        }

        return chain.Count == 0 ? null : chain;
    }

    /// <summary>The chain from <paramref name="sent"/>[0] to its end; null with the refusal.</summary>
    public static List<CertificateFacts>? Build(List<CertificateFacts> sent, TrustTable trust, DateTime utcNow, out CertificateVerdict refusal)
    {
        List<CertificateFacts> chain = [sent[0]];
        refusal = default;
        while (!chain[^1].IsSelfIssued)
        {
            CertificateFacts last = chain[^1];
            if (RsaSignature.Hash(last.SignatureOid) is null)
            {
                refusal = Algorithm(last);
                return null;
            }

            CertificateFacts? issuer = Issuer(last, [.. trust.Trusted, .. trust.Issuers, .. sent.Skip(1)], utcNow, out bool named);
            if (issuer is null || chain.Count == LengthMax)
            {
                refusal = issuer is not null ? TooLong() : named ? BadSignature(last) : Missing(last);
                return null;
            }

            chain.Add(issuer);
        }

        // A signature under an algorithm that is not accepted says nothing: it is not even verified.
        CertificateFacts end = chain[^1];
        refusal = RsaSignature.Hash(end.SignatureOid) is null ? Algorithm(end) : end.IsSignedBy(end) ? CertificateVerdict.Accept : BadSignature(end);
        return refusal.Trusted ? chain : null;
    }

    // The first whose key verifies, those that are valid now before the others: an authority may have been renewed.
    private static CertificateFacts? Issuer(CertificateFacts certificate, List<CertificateFacts> candidates, DateTime utcNow, out bool named)
    {
        CertificateFacts? outdated = null;
        named = false;
        foreach (CertificateFacts candidate in candidates)
        {
            bool sameKey = certificate.AuthorityKeyId is null || candidate.SubjectKeyId is null || certificate.AuthorityKeyId.AsSpan().SequenceEqual(candidate.SubjectKeyId);
            if (!sameKey || !certificate.IssuerDer.AsSpan().SequenceEqual(candidate.SubjectDer))
            {
                continue;
            }

            named = true;
            if (!certificate.IsSignedBy(candidate))
            {
                continue;
            }

            if (candidate.NotBeforeUtc <= utcNow && utcNow <= candidate.NotAfterUtc)
            {
                return candidate;
            }

            outdated ??= candidate;
        }

        return outdated;
    }

    private static CertificateVerdict Missing(CertificateFacts certificate) => CertificateVerdict.Refuse(
        StatusCode.BadCertificateChainIncomplete,
        $"issuer missing: no certificate of {certificate.Issuer}, which issued {certificate.Subject}; try putting it into pki/issuers, or into pki/trusted to trust all it issues");

    private static CertificateVerdict BadSignature(CertificateFacts certificate) => CertificateVerdict.Refuse(
        StatusCode.BadCertificateInvalid, $"damaged: the signature of {certificate.Subject} was not made by {certificate.Issuer}");

    private static CertificateVerdict TooLong() => CertificateVerdict.Refuse(
        StatusCode.BadCertificateChainIncomplete, $"the chain is longer than {LengthMax} certificates");

    private static CertificateVerdict Algorithm(CertificateFacts certificate) => CertificateVerdict.Refuse(
        StatusCode.BadCertificatePolicyCheckFailed,
        $"signature algorithm too weak or not offered: {certificate.Subject} is signed with {RsaSignature.Name(certificate.SignatureOid)}; expected SHA-256, SHA-384 or SHA-512 with RSA");
}
