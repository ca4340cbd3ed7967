using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>
/// Proof of possession of a private key in CreateSession and ActivateSession: a signature over the other side's
/// certificate followed by its last nonce (OPC 10000-4, SignatureData).
/// </summary>
public static class SignatureProof
{
    /// <summary>Signs; an empty proof under the policy None.</summary>
    /// <param name="policy">Policy of the channel or of the user token.</param>
    /// <param name="own">Own certificate and key.</param>
    /// <param name="otherCertificate">The other side's certificate as it was sent.</param>
    /// <param name="otherNonce">The other side's last nonce.</param>
    public static SignatureData Create(SecurityPolicy policy, ApplicationInstance? own, ReadOnlySpan<byte> otherCertificate, ReadOnlySpan<byte> otherNonce)
    {
        if (!policy.IsSecure || own is null)
        {
            return new SignatureData();
        }

        byte[] signature = new byte[own.KeyBytes];
        own.Sign(policy, [.. otherCertificate, .. otherNonce], signature);
        return new SignatureData { Algorithm = policy.SignatureAlgorithmUri, Signature = signature };
    }

    /// <summary>Checks what <see cref="Create"/> made.</summary>
    /// <returns>Good, or BadApplicationSignatureInvalid.</returns>
    public static StatusCode Verify(SecurityPolicy policy, PeerCertificate? signer, ReadOnlySpan<byte> ownCertificate, ReadOnlySpan<byte> ownNonce, SignatureData proof)
    {
        if (!policy.IsSecure)
        {
            return StatusCode.Good;
        }

        bool algorithm = string.IsNullOrEmpty(proof.Algorithm) || string.Equals(proof.Algorithm, policy.SignatureAlgorithmUri, StringComparison.Ordinal);
        bool valid = algorithm && signer is not null && proof.Signature is { } signature && PeerCrypto.Verify(policy, signer, [.. ownCertificate, .. ownNonce], signature);
        return valid ? StatusCode.Good : StatusCode.BadApplicationSignatureInvalid;
    }
}
