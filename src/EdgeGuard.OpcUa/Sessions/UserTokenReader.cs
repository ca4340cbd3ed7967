using System.Security.Cryptography;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.OpcUa.Sessions;

/// <summary>
/// Reads the user of ActivateSession. A missing or empty token is the anonymous user. A password arrives encrypted as
/// length, password, last server nonce, over one or more RSA blocks (OPC 10000-4, 7.41.2.2); every way in which it can be
/// wrong looks the same to the client.
/// </summary>
internal sealed class UserTokenReader(UaServerOptions options)
{
    private const int SecretBytesMax = 8192;
    private const int UserNameCharactersMax = 256;

    private readonly Lock _passwords = new();
    private readonly LoginThrottle _throttle = new(options.Throttle);

    public StatusCode TryRead(UaServerPeer peer, UaSession session, ActivateSessionRequest request, ChannelClock now, out UserIdentity? identity)
    {
        identity = null;
        ExtensionObject? token = request.UserIdentityToken;
        if (token is null || token.TypeId.IsNull || (token.Body is null && token.Structure is null) || token.Is<AnonymousIdentityToken>())
        {
            identity = options.AllowAnonymous ? UserIdentity.Anonymous : null;
            return identity is null ? StatusCode.BadIdentityTokenRejected : StatusCode.Good;
        }

        if (token.Is<UserNameIdentityToken>() && options.Users is { TakesPasswords: true } passwords)
        {
            return token.TryDecode(UaLimits.Default, out UserNameIdentityToken? named) == StatusCode.Good
                ? Read(peer, session, named!, passwords, now, out identity)
                : StatusCode.BadIdentityTokenInvalid;
        }

        if (token.Is<X509IdentityToken>() && options.Users is { TakesCertificates: true } certificates)
        {
            return token.TryDecode(UaLimits.Default, out X509IdentityToken? certificate) == StatusCode.Good
                ? Read(peer, session, certificate!, request.UserTokenSignature, certificates, out identity)
                : StatusCode.BadIdentityTokenInvalid;
        }

        return StatusCode.BadIdentityTokenInvalid;
    }

    private StatusCode Read(UaServerPeer peer, UaSession session, UserNameIdentityToken token, IUserAuthority users, ChannelClock now, out UserIdentity? identity)
    {
        identity = null;
        string userName = token.UserName ?? "";
        if (userName.Length is 0 or > UserNameCharactersMax)
        {
            return StatusCode.BadIdentityTokenInvalid;
        }

        // One after another: attempts side by side must not slip past the throttle before the first of them is counted.
        lock (_passwords)
        {
            long waitMs = _throttle.WaitMs(peer.Address, userName, now.MonotonicMs);
            if (waitMs == 0)
            {
                return Compare(peer, session, token, users, now, out identity);
            }

            options.Log?.Refused($"user {Printable.Of(userName)} from {peer.Remote}: has to wait {waitMs} ms after wrong passwords");
            return StatusCode.BadUserAccessDenied;
        }
    }

    private StatusCode Compare(UaServerPeer peer, UaSession session, UserNameIdentityToken token, IUserAuthority users, ChannelClock now, out UserIdentity? identity)
    {
        string userName = token.UserName ?? "";
        byte[]? secret = Secret(peer, session, token);
        identity = secret is null ? null : users.Find(userName, secret);
        CryptographicOperations.ZeroMemory(secret);
        if (identity is null)
        {
            _throttle.Wrong(peer.Address, userName, now.MonotonicMs);
            options.Log?.Refused($"user {Printable.Of(userName)} from {peer.Remote}: {(secret is null ? "the password does not decrypt or is older than the session's nonce" : "wrong name or password")}");
            return StatusCode.BadUserAccessDenied;
        }

        _throttle.Right(userName);
        return StatusCode.Good;
    }

    // The password alone, or null. Without an algorithm it is in clear: only taken from within an encrypted channel.
    private byte[]? Secret(UaServerPeer peer, UaSession session, UserNameIdentityToken token)
    {
        byte[] password = token.Password ?? [];
        if (string.IsNullOrEmpty(token.EncryptionAlgorithm))
        {
            return peer.Mode == MessageSecurityMode.SignAndEncrypt ? password : null;
        }

        SecurityPolicy? policy = EndpointList.SecretPolicy(token.PolicyId) ?? (peer.Policy.IsSecure ? peer.Policy : null);
        if (policy is null || options.Channel.Instance is not { } instance || password.Length > SecretBytesMax || !string.Equals(policy.EncryptionAlgorithmUri, token.EncryptionAlgorithm, StringComparison.Ordinal))
        {
            return null;
        }

        return TokenSecret.TryOpen(policy, instance, password, session.ServerNonce, out byte[] secret) == StatusCode.Good ? secret : null;
    }

    private StatusCode Read(UaServerPeer peer, UaSession session, X509IdentityToken token, SignatureData proof, IUserAuthority users, out UserIdentity? identity)
    {
        identity = null;
        SecurityPolicy policy = peer.Policy.IsSecure ? peer.Policy : SecurityPolicy.Basic256Sha256;
        using PeerCertificate? certificate = PeerCertificate.TryLoad(token.CertificateData, policy, out _);
        if (certificate is null || options.Channel.Instance is null)
        {
            return StatusCode.BadIdentityTokenInvalid;
        }

        if (SignatureProof.Verify(policy, certificate, options.Channel.Instance.Der, session.ServerNonce, proof) != StatusCode.Good)
        {
            return StatusCode.BadUserSignatureInvalid;
        }

        identity = users.Find(certificate.Der);
        if (identity is null)
        {
            options.Log?.Refused($"user certificate {Convert.ToHexString(certificate.Thumbprint)} from {peer.Remote} is not known");
        }

        return identity is null ? StatusCode.BadIdentityTokenRejected : StatusCode.Good;
    }
}
