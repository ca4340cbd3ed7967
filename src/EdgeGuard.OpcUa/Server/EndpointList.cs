using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Server;

/// <summary>
/// The endpoints as told to one client. Host and port are those the client dialled, whatever they are: behind address
/// translation, in a container or under a short name ours would be wrong for it. The same list, in the same order, goes
/// into GetEndpoints and CreateSession, because strict clients compare them (OPC 10000-4, 5.6.2).
/// </summary>
internal sealed class EndpointList(UaServerOptions options)
{
    /// <summary>Policy id of the anonymous token.</summary>
    public const string AnonymousPolicyId = "anonymous";

    /// <summary>Policy id of the certificate token.</summary>
    public const string CertificatePolicyId = "certificate";

    private const string TransportProfile = "http://opcfoundation.org/UA-Profile/Transport/uatcp-uasc-uabinary";
    private const string UserNamePrefix = "username-";
    private const int UrlCharactersMax = 4096;

    /// <summary>This server as told to a client.</summary>
    public ApplicationDescription Describe(string? dialledUrl) => new()
    {
        ApplicationUri = options.ApplicationUri,
        ProductUri = options.ProductUri,
        ApplicationName = new LocalizedText(options.ApplicationName),
        ApplicationType = ApplicationType.Server,
        DiscoveryUrls = [Url(dialledUrl)],
    };

    /// <summary>All endpoints, or those with a wanted transport profile.</summary>
    public EndpointDescription[] For(string? dialledUrl, string?[]? profileUris)
    {
        if (profileUris is { Length: > 0 } && !profileUris.Contains(TransportProfile, StringComparer.Ordinal))
        {
            return [];
        }

        var list = new List<EndpointDescription>();
        foreach (SecurityPolicy policy in options.Channel.Policies)
        {
            if (!policy.IsSecure)
            {
                AddNone(list, dialledUrl);
                continue;
            }

            if (options.OfferSign)
            {
                list.Add(Make(policy, MessageSecurityMode.Sign, dialledUrl));
            }

            list.Add(Make(policy, MessageSecurityMode.SignAndEncrypt, dialledUrl));
        }

        return [.. list];
    }

    /// <summary>The policy by which the secret of a user name token is encrypted, by the token policy's id; null for an unknown id.</summary>
    public static SecurityPolicy? SecretPolicy(string? policyId)
    {
        foreach (SecurityPolicy policy in SecurityPolicy.All)
        {
            if (policy.IsSecure && string.Equals(policyId, UserNamePrefix + policy.Name, StringComparison.Ordinal))
            {
                return policy;
            }
        }

        return null;
    }

    private void AddNone(List<EndpointDescription> list, string? dialledUrl)
    {
        if (options.AllowNoneSessions)
        {
            list.Add(Make(SecurityPolicy.None, MessageSecurityMode.None, dialledUrl));
        }
    }

    private EndpointDescription Make(SecurityPolicy policy, MessageSecurityMode mode, string? dialledUrl) => new()
    {
        EndpointUrl = Url(dialledUrl),
        Server = Describe(dialledUrl),
        ServerCertificate = options.Channel.Instance?.Der,
        SecurityMode = mode,
        SecurityPolicyUri = policy.Uri,
        UserIdentityTokens = Tokens(policy),
        TransportProfileUri = TransportProfile,
        SecurityLevel = Level(policy, mode),
    };

    // On an endpoint without security the token policy carries one of its own, so that no password is ever sent in clear.
    private UserTokenPolicy[] Tokens(SecurityPolicy policy)
    {
        var tokens = new List<UserTokenPolicy>();
        if (options.AllowAnonymous)
        {
            tokens.Add(new UserTokenPolicy { PolicyId = AnonymousPolicyId, TokenType = UserTokenType.Anonymous });
        }

        SecurityPolicy secret = policy.IsSecure ? policy : SecurityPolicy.Basic256Sha256;
        if (options.Users is { TakesPasswords: true } && options.Channel.Instance is not null)
        {
            tokens.Add(new UserTokenPolicy { PolicyId = UserNamePrefix + secret.Name, TokenType = UserTokenType.UserName, SecurityPolicyUri = secret.Uri });
        }

        if (options.Users is { TakesCertificates: true } && policy.IsSecure)
        {
            tokens.Add(new UserTokenPolicy { PolicyId = CertificatePolicyId, TokenType = UserTokenType.Certificate, SecurityPolicyUri = secret.Uri });
        }

        return [.. tokens];
    }

    private static byte Level(SecurityPolicy policy, MessageSecurityMode mode)
    {
        int strength = policy.IsSecure ? 1 + IndexOf(policy) : 0;
        return (byte)((strength * 10) + (mode == MessageSecurityMode.SignAndEncrypt ? 50 : 0));
    }

    private static int IndexOf(SecurityPolicy policy)
    {
        for (int i = 0; i < SecurityPolicy.All.Count; i++)
        {
            if (SecurityPolicy.All[i] == policy)
            {
                return i;
            }
        }

        return -1;
    }

    private string Url(string? dialled)
    {
        bool usable = dialled is { Length: > 0 and <= UrlCharactersMax }
            && Uri.TryCreate(dialled, UriKind.Absolute, out Uri? uri) && string.Equals(uri.Scheme, "opc.tcp", StringComparison.Ordinal) && uri.Host.Length > 0;
        return usable ? dialled! : options.EndpointUrl;
    }
}
