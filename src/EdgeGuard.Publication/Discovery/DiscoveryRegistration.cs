using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.Publication.Discovery;

/// <summary>
/// One registration with a discovery server (OPC 10000-4, 5.4.5 and 5.4.6): its endpoints are asked without security, the
/// best secured one that this side can speak is taken, its certificate must be trusted here as a client's must be, and then
/// RegisterServer2 is asked, or RegisterServer where that is not known. Without security nothing is registered: the discovery
/// server could not know who asks.
/// </summary>
internal sealed class DiscoveryRegistration(DiscoveryOptions options)
{
    private const string TransportProfile = "http://opcfoundation.org/UA-Profile/Transport/uatcp-uasc-uabinary";

    // What clients may look for (OPC 10000-12, annex D): this server gives current data.
    private const string CurrentData = "DA";

    // A label of DNS (RFC 1035, 2.3.4).
    private const int MdnsNameMax = 63;

    /// <summary>Registers.</summary>
    /// <param name="online">False: it goes offline.</param>
    /// <exception cref="IOException">Refused, by this side or the other; the message says why.</exception>
    public void Register(bool online)
    {
        EndpointDescription endpoint = Choose(Endpoints());
        ClientChannelOptions channel = Channel() with
        {
            Policy = SecurityPolicy.All.First(p => p.Uri == endpoint.SecurityPolicyUri),
            Mode = endpoint.SecurityMode,
            ServerCertificate = endpoint.ServerCertificate,
            Instance = options.Instance,
        };
        CheckTrust(endpoint, channel.Policy);
        using var caller = new DiscoveryCaller(options.Server, channel, options.LimitMs);
        IServiceResponse answer = caller.Ask(new RegisterServer2Request { Server = Describe(online), DiscoveryConfiguration = [new ExtensionObject(Mdns())] });
        if (IsUnknown(answer.ResponseHeader.ServiceResult))
        {
            answer = caller.Ask(new RegisterServerRequest { Server = Describe(online) });
        }

        if (answer.ResponseHeader.ServiceResult != StatusCode.Good)
        {
            throw new IOException($"the discovery server refuses: {answer.ResponseHeader.ServiceResult}");
        }

        caller.Close();
    }

    private static bool IsUnknown(StatusCode fault) => fault
        is StatusCode.BadServiceUnsupported or StatusCode.BadNotImplemented or StatusCode.BadNotSupported or StatusCode.BadDecodingError;

    private EndpointDescription[] Endpoints()
    {
        using var caller = new DiscoveryCaller(options.Server, Channel(), options.LimitMs);
        IServiceResponse answer = caller.Ask(new GetEndpointsRequest { EndpointUrl = options.Server.OriginalString });
        caller.Close();
        return answer is GetEndpointsResponse { ResponseHeader.ServiceResult: StatusCode.Good } found
            ? found.Endpoints ?? []
            : throw new IOException($"the discovery server does not tell its endpoints: {answer.ResponseHeader.ServiceResult}");
    }

    private static EndpointDescription Choose(EndpointDescription[] endpoints) => endpoints
        .Where(static e => e.SecurityMode is MessageSecurityMode.Sign or MessageSecurityMode.SignAndEncrypt)
        .Where(static e => SecurityPolicy.All.Any(p => p.IsSecure && p.Uri == e.SecurityPolicyUri))
        .Where(static e => e.TransportProfileUri is null or "" or TransportProfile)
        .OrderByDescending(static e => e.SecurityMode)
        .ThenByDescending(static e => e.SecurityLevel)
        .FirstOrDefault() ?? throw new IOException("the discovery server has no endpoint with a security that is spoken here");

    private void CheckTrust(EndpointDescription endpoint, SecurityPolicy policy)
    {
        using PeerCertificate peer = PeerCertificate.TryLoad(endpoint.ServerCertificate, policy, out CertificateVerdict verdict) ?? throw new IOException("its certificate: " + verdict.Cause);
        verdict = options.Judge.Judge(peer);
        if (!verdict.Trusted)
        {
            throw new IOException("its certificate: " + verdict.Cause);
        }

        // OPC 10000-4, 6.1.3: the certificate belongs to the application that describes itself by this URI.
        if (CertificateFacts.TryRead(peer.Der, out _) is not { } facts || !facts.Uris.Contains(endpoint.Server.ApplicationUri, StringComparer.Ordinal))
        {
            throw new IOException("its certificate names another application URI than its endpoint");
        }
    }

    private ClientChannelOptions Channel() => new() { EndpointUrl = options.Server.OriginalString, HandshakeMs = options.LimitMs };

    private RegisteredServer Describe(bool online) => new()
    {
        ServerUri = options.ApplicationUri,
        ProductUri = options.ProductUri,
        ServerNames = [new LocalizedText(options.ApplicationName)],
        ServerType = ApplicationType.Server,
        DiscoveryUrls = [options.OwnUrl],
        IsOnline = online,
    };

    private MdnsDiscoveryConfiguration Mdns() => new()
    {
        MdnsServerName = options.ApplicationName[..Math.Min(options.ApplicationName.Length, MdnsNameMax)],
        ServerCapabilities = [CurrentData],
    };
}
