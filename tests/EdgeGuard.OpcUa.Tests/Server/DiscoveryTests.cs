using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>Points 1 and 4 of what independent clients trip over: endpoints by the client's own URL, discovery without security (OPC 10000-4, 5.4 and 5.6.2).</summary>
public sealed class DiscoveryTests
{
    private const string TransportProfile = "http://opcfoundation.org/UA-Profile/Transport/uatcp-uasc-uabinary";

    [Theory]
    [InlineData("opc.tcp://192.168.7.9:14840")]
    [InlineData("opc.tcp://short:4840/any/path")]
    public void Point_1_endpoints_echo_the_url_that_was_dialled(string url)
    {
        using var bench = new ServerBench(ServerBench.Secured());
        EndpointDescription[] endpoints = bench.Connect().Ask<GetEndpointsResponse>(new GetEndpointsRequest { EndpointUrl = url }).Endpoints!;
        Assert.NotEmpty(endpoints);
        Assert.All(endpoints, e => Assert.Equal((url, url), (e.EndpointUrl, e.Server.DiscoveryUrls![0])));
        ApplicationDescription server = bench.Connect().Ask<FindServersResponse>(new FindServersRequest { EndpointUrl = url }).Servers![0];
        Assert.Equal((url, ServerBench.ApplicationUri), (server.DiscoveryUrls![0], server.ApplicationUri));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("http://other/")]
    [InlineData("opc.tcp://")]
    public void Point_1_an_unusable_url_gets_the_servers_own_and_is_not_refused(string? url)
    {
        using var bench = new ServerBench();
        EndpointDescription[] endpoints = bench.Connect().Ask<GetEndpointsResponse>(new GetEndpointsRequest { EndpointUrl = url }).Endpoints!;
        Assert.All(endpoints, static e => Assert.Equal("opc.tcp://pilot-hall:4840", e.EndpointUrl));
    }

    [Fact]
    public void Point_1_profile_uris_filter()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Connect();
        Assert.Empty(client.Ask<GetEndpointsResponse>(new GetEndpointsRequest { ProfileUris = ["http://opcfoundation.org/UA-Profile/Transport/https-uabinary"] }).Endpoints!);
        Assert.NotEmpty(client.Ask<GetEndpointsResponse>(new GetEndpointsRequest { ProfileUris = ["x", TransportProfile] }).Endpoints!);
    }

    [Fact]
    public void Point_1_create_session_gives_the_same_list_in_the_same_order()
    {
        using var bench = new ServerBench(ServerBench.Secured());
        BenchClient client = bench.Connect(SecurityPolicy.Basic256Sha256, MessageSecurityMode.SignAndEncrypt);
        EndpointDescription[] listed = client.Ask<GetEndpointsResponse>(new GetEndpointsRequest { EndpointUrl = "opc.tcp://alias:14840" }).Endpoints!;
        EndpointDescription[] given = client.CreateSession().ServerEndpoints!;
        Assert.Equal(listed.Select(Wired), given.Select(Wired));
        Assert.Equal(7, listed.Length); // None and three policies in two modes each
    }

    [Fact]
    public void Point_3_a_user_name_on_the_endpoint_without_security_has_a_policy_of_its_own()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        EndpointDescription none = bench.Connect().Ask<GetEndpointsResponse>(new GetEndpointsRequest()).Endpoints!.Single(static e => e.SecurityMode == MessageSecurityMode.None);
        UserTokenPolicy token = none.UserIdentityTokens!.Single(static t => t.TokenType == UserTokenType.UserName);
        Assert.Equal(SecurityPolicy.Basic256Sha256.Uri, token.SecurityPolicyUri);
        Assert.NotNull(none.ServerCertificate);
    }

    [Fact]
    public void Point_4_a_channel_without_security_discovers_but_makes_no_session_unless_configured()
    {
        using var bench = new ServerBench(ServerBench.Secured() with { AllowNoneSessions = false });
        BenchClient client = bench.Connect();
        EndpointDescription[] endpoints = client.Ask<GetEndpointsResponse>(new GetEndpointsRequest()).Endpoints!;
        Assert.DoesNotContain(endpoints, static e => e.SecurityMode == MessageSecurityMode.None);
        Assert.Single(client.Ask<FindServersResponse>(new FindServersRequest()).Servers!);
        Assert.Equal(StatusCode.BadSecurityModeInsufficient, client.AskFault(client.SessionRequest()));
    }

    [Fact]
    public void Find_servers_filters_by_application_uri()
    {
        using var bench = new ServerBench();
        Assert.Empty(bench.Connect().Ask<FindServersResponse>(new FindServersRequest { ServerUris = ["urn:other"] }).Servers!);
    }

    private static string Wired(EndpointDescription endpoint) => Wire.Written(endpoint.Write);
}
