using CsCheck;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.SecureChannel;

/// <summary>What sessions need of the keys: proofs of possession and encrypted passwords.</summary>
public sealed class SessionSecretTests
{
    private static readonly byte[] Nonce = [.. Enumerable.Range(1, 32).Select(i => (byte)i)];

    public static readonly TheoryData<string> Policies = ["Basic256Sha256", "Aes128_Sha256_RsaOaep", "Aes256_Sha256_RsaPss"];

    [Theory]
    [MemberData(nameof(Policies))]
    public void A_secret_of_any_length_comes_back_and_only_with_its_nonce(string name) => Gen.Byte.Array[0, 700].Sample(
        secret =>
        {
            SecurityPolicy policy = ChannelTests.Policy(name);
            using PeerCertificate server = PeerCertificate.TryLoad(TestParties.Server.Der, policy, out _)!;
            byte[] cipher = TokenSecret.Seal(policy, server, secret, Nonce);
            Assert.Equal(StatusCode.Good, TokenSecret.TryOpen(policy, TestParties.Server, cipher, Nonce, out byte[] back));
            Assert.Equal(secret, back);
            Assert.Equal(StatusCode.BadIdentityTokenInvalid, TokenSecret.TryOpen(policy, TestParties.Server, cipher, [.. Nonce.Reverse()], out back));
            Assert.Empty(back);
        },
        iter: 20, threads: 1);

    [Theory]
    [MemberData(nameof(Policies))]
    public void A_changed_or_foreign_secret_is_refused_without_telling_why(string name)
    {
        SecurityPolicy policy = ChannelTests.Policy(name);
        using PeerCertificate server = PeerCertificate.TryLoad(TestParties.Server.Der, policy, out _)!;
        byte[] cipher = TokenSecret.Seal(policy, server, "pellets"u8, Nonce);
        byte[] changed = [.. cipher];
        changed[100] ^= 1;
        foreach (byte[] wrong in (byte[][])[changed, cipher[..255], [], [.. cipher, 0], new byte[1_000_000]])
        {
            Assert.Equal(StatusCode.BadIdentityTokenInvalid, TokenSecret.TryOpen(policy, TestParties.Server, wrong, Nonce, out _));
        }

        Assert.Equal(StatusCode.BadIdentityTokenInvalid, TokenSecret.TryOpen(policy, TestParties.Stranger, cipher, Nonce, out _));
    }

    [Theory]
    [MemberData(nameof(Policies))]
    public void A_proof_of_possession_holds_for_its_certificate_and_nonce_only(string name)
    {
        SecurityPolicy policy = ChannelTests.Policy(name);
        using PeerCertificate client = PeerCertificate.TryLoad(TestParties.Client.Der, policy, out _)!;
        using PeerCertificate stranger = PeerCertificate.TryLoad(TestParties.Stranger.Der, policy, out _)!;
        SignatureData proof = SignatureProof.Create(policy, TestParties.Client, TestParties.Server.Der, Nonce);
        Assert.Equal(policy.SignatureAlgorithmUri, proof.Algorithm);
        Assert.Equal(StatusCode.Good, SignatureProof.Verify(policy, client, TestParties.Server.Der, Nonce, proof));
        Assert.Equal(StatusCode.BadApplicationSignatureInvalid, SignatureProof.Verify(policy, stranger, TestParties.Server.Der, Nonce, proof));
        Assert.Equal(StatusCode.BadApplicationSignatureInvalid, SignatureProof.Verify(policy, client, TestParties.Server.Der, [.. Nonce.Reverse()], proof));
        Assert.Equal(StatusCode.BadApplicationSignatureInvalid, SignatureProof.Verify(policy, client, TestParties.Server.Der, Nonce, new SignatureData()));
        Assert.Equal(StatusCode.BadApplicationSignatureInvalid, SignatureProof.Verify(policy, null, TestParties.Server.Der, Nonce, proof));
        proof.Algorithm = "http://www.w3.org/2000/09/xmldsig#rsa-sha1";
        Assert.Equal(StatusCode.BadApplicationSignatureInvalid, SignatureProof.Verify(policy, client, TestParties.Server.Der, Nonce, proof));
    }

    [Fact]
    public void Certificates_that_are_none_or_too_short_are_refused_with_the_cause()
    {
        Assert.Null(PeerCertificate.TryLoad([0x30, 0x84, 0xFF, 0xFF, 0xFF, 0xFF], SecurityPolicy.Basic256Sha256, out CertificateVerdict refusal));
        Assert.Equal(StatusCode.BadCertificateInvalid, refusal.Status);
        Assert.Null(PeerCertificate.TryLoad(new byte[PeerCertificate.BytesMax + 1], SecurityPolicy.Basic256Sha256, out _));
        using var weak = ApplicationCertificate.CreateSelfSigned("weak", "urn:weak", [], [], TestParties.MadeAt, keyBits: 1024);
        Assert.Null(PeerCertificate.TryLoad(weak.RawData, SecurityPolicy.Basic256Sha256, out refusal));
        Assert.Equal(StatusCode.BadCertificatePolicyCheckFailed, refusal.Status);
        Assert.Contains("1024 bits", refusal.Cause, StringComparison.Ordinal);

        // A chain: the first certificate is the peer, what follows is kept for the judge.
        using PeerCertificate? chain = PeerCertificate.TryLoad([.. TestParties.Client.Der, .. weak.RawData], SecurityPolicy.Basic256Sha256, out _);
        Assert.Equal(TestParties.Client.Thumbprint, chain!.Thumbprint);
        Assert.Equal(TestParties.Client.Der, chain.Der.ToArray());
    }
}
