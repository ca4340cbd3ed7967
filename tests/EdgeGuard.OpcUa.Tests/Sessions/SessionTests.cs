using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Tests.SecureChannel;
using EdgeGuard.OpcUa.Tests.Server;

namespace EdgeGuard.OpcUa.Tests.Sessions;

/// <summary>Sessions (OPC 10000-4, 5.6); points 2, 3, 5 and 9 of what independent clients trip over.</summary>
public sealed class SessionTests
{
    private static readonly NodeId Outlet = new(2, "N-1/outlet");

    public static TheoryData<string, MessageSecurityMode> Channels => new()
    {
        { "None", MessageSecurityMode.None },
        { "Basic256Sha256", MessageSecurityMode.Sign },
        { "Basic256Sha256", MessageSecurityMode.SignAndEncrypt },
        { "Aes128_Sha256_RsaOaep", MessageSecurityMode.SignAndEncrypt },
        { "Aes256_Sha256_RsaPss", MessageSecurityMode.SignAndEncrypt },
    };

    [Theory]
    [MemberData(nameof(Channels))]
    public void A_session_reads_and_closes_over_every_policy(string policyName, MessageSecurityMode mode)
    {
        SecurityPolicy policy = SecurityPolicy.All.Single(p => string.Equals(p.Name, policyName, StringComparison.Ordinal));
        using var bench = new ServerBench(ServerBench.Secured());
        BenchClient client = bench.Activated(policy, mode);
        Assert.Equal(20.0, client.Read(Outlet).Value.AsDouble);
        bool signed = client.Session.ServerSignature.Signature is { Length: > 0 };
        Assert.Equal(policy.IsSecure, signed);
        client.Ask<CloseSessionResponse>(new CloseSessionRequest { DeleteSubscriptions = true });
        Assert.Equal(StatusCode.BadSessionIdInvalid, client.AskFault(new ReadRequest()));
        Assert.Equal(0, bench.Server.SessionCount);
    }

    [Fact]
    public void Point_2_one_application_uri_everywhere()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        Assert.Equal(ServerBench.ApplicationUri, client.Session.ServerEndpoints![0].Server.ApplicationUri);
        Assert.Equal(ServerBench.ApplicationUri, ((string?[])client.Read(new NodeId(StandardIds.ServerArray)).Value.Elements!)[0]);
        Assert.Equal(ServerBench.ApplicationUri, ((string?[])client.Read(new NodeId(StandardIds.NamespaceArray)).Value.Elements!)[1]);
        Assert.True(CertificateRules.CheckApplicationUri(CertificateFacts.TryRead(TestParties.ServerCertificate.RawData, out _)!, ServerBench.ApplicationUri).Trusted);
    }

    [Fact]
    public void Point_3_nonce_and_certificate_come_without_security_too_and_each_activation_has_a_fresh_nonce()
    {
        using var bench = new ServerBench(ServerBench.Secured());
        BenchClient client = bench.Connect();
        CreateSessionResponse created = client.CreateSession();
        Assert.Equal(32, created.ServerNonce!.Length);
        Assert.Equal(TestParties.Server.Der, created.ServerCertificate);
        var nonces = new HashSet<string>(StringComparer.Ordinal) { Convert.ToHexString(created.ServerNonce) };
        for (int i = 0; i < 3; i++)
        {
            client.Activate();
            Assert.True(nonces.Add(Convert.ToHexString(client.ServerNonce!)));
        }
    }

    [Fact]
    public void Point_3_a_missing_an_empty_and_an_anonymous_identity_are_the_same()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        client.Activate(new AnonymousIdentityToken());
        client.Activate(new AnonymousIdentityToken { PolicyId = "anonymous" });
        Assert.IsType<ActivateSessionResponse>(client.Ask(new ActivateSessionRequest { UserIdentityToken = new ExtensionObject(default, ExtensionObjectEncoding.None, null) }));
    }

    [Fact]
    public void Anonymous_can_be_off()
    {
        using var bench = new ServerBench(ServerBench.Plain with { AllowAnonymous = false });
        BenchClient client = bench.Connect();
        client.CreateSession();
        Assert.Equal(StatusCode.BadIdentityTokenRejected, client.TryActivate().ResponseHeader.ServiceResult);
        Assert.Equal(StatusCode.BadSessionNotActivated, client.AskFault(new ReadRequest()));
    }

    [Fact]
    public void Point_5_what_clients_read_at_once_is_good()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        foreach (uint id in new uint[] { 2255, 2254, 2256, 2258, 2259, 2267, 2994 })
        {
            DataValue value = client.Read(new NodeId(id));
            Assert.True(value.Status.IsGood() && !value.Value.IsNull, $"i={id}: {value.Status}");
        }
    }

    [Fact]
    public void A_session_ends_when_it_is_not_used_and_lives_when_it_is()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        client.CreateSession(timeoutMs: 10_000);
        client.Activate();
        for (int i = 0; i < 4; i++)
        {
            bench.Run(8_000);
            Assert.Equal(StatusCode.Good, client.Read(Outlet).Status);
        }

        bench.Run(10_100);
        Assert.Equal(StatusCode.BadSessionIdInvalid, client.AskFault(new ReadRequest()));
    }

    [Fact]
    public void The_time_out_is_revised_into_the_limits()
    {
        using var bench = new ServerBench();
        Assert.Equal(10_000, bench.Connect().CreateSession(timeoutMs: 1).RevisedSessionTimeout);
        Assert.Equal(3_600_000, bench.Connect().CreateSession(timeoutMs: 1e12).RevisedSessionTimeout);
        Assert.Equal(3_600_000, bench.Connect().CreateSession(timeoutMs: double.NaN).RevisedSessionTimeout);
    }

    [Fact]
    public void Point_9_a_session_outlives_its_socket_and_goes_over_to_another_channel()
    {
        using var bench = new ServerBench(ServerBench.Secured());
        BenchClient first = bench.Activated(SecurityPolicy.Basic256Sha256, MessageSecurityMode.SignAndEncrypt);
        first.Drop();
        BenchClient second = bench.Connect(SecurityPolicy.Basic256Sha256, MessageSecurityMode.SignAndEncrypt);
        (second.Token, second.ServerNonce) = (first.Token, first.ServerNonce);
        Assert.Equal(StatusCode.BadSecureChannelIdInvalid, second.AskFault(new ReadRequest()));
        second.Activate();
        Assert.Equal(StatusCode.Good, second.Read(Outlet).Status);
    }

    [Fact]
    public void Point_9_a_session_does_not_go_over_to_a_channel_with_less_security()
    {
        using var bench = new ServerBench(ServerBench.Secured());
        BenchClient first = bench.Activated(SecurityPolicy.Basic256Sha256, MessageSecurityMode.SignAndEncrypt);
        BenchClient thief = bench.Connect();
        (thief.Token, thief.ServerNonce) = (first.Token, first.ServerNonce);
        Assert.Equal(StatusCode.BadSecurityChecksFailed, thief.TryActivate().ResponseHeader.ServiceResult);
        Assert.Equal(StatusCode.Good, first.Read(Outlet).Status);
    }

    [Fact]
    public void A_session_that_is_not_active_yet_cannot_be_taken_to_another_channel()
    {
        using var bench = new ServerBench();
        BenchClient first = bench.Connect();
        first.CreateSession();
        BenchClient second = bench.Connect();
        second.Token = first.Token;
        Assert.Equal(StatusCode.BadSecureChannelIdInvalid, second.TryActivate().ResponseHeader.ServiceResult);
    }

    [Fact]
    public void Proofs_of_the_clients_key_are_checked()
    {
        using var bench = new ServerBench(ServerBench.Secured());
        BenchClient client = bench.Connect(SecurityPolicy.Basic256Sha256, MessageSecurityMode.Sign);
        client.CreateSession();
        client.ServerNonce = new byte[32];
        Assert.Equal(StatusCode.BadApplicationSignatureInvalid, client.TryActivate().ResponseHeader.ServiceResult);
    }

    [Fact]
    public void The_application_uri_must_stand_in_the_certificate()
    {
        using var bench = new ServerBench(ServerBench.Secured());
        BenchClient client = bench.Connect(SecurityPolicy.Basic256Sha256, MessageSecurityMode.Sign);
        CreateSessionRequest request = client.SessionRequest();
        request.ClientDescription = new ApplicationDescription { ApplicationUri = "urn:someone:else" };
        Assert.Equal(StatusCode.BadCertificateUriInvalid, client.AskFault(request));
        request = client.SessionRequest();
        request.ClientNonce = new byte[31];
        Assert.Equal(StatusCode.BadNonceInvalid, client.AskFault(request));
        request = client.SessionRequest();
        request.ClientCertificate = TestParties.Stranger.Der;
        Assert.Equal(StatusCode.BadSecurityChecksFailed, client.AskFault(request));
    }

    [Fact]
    public void The_number_of_sessions_is_bounded_and_one_never_activated_gives_way()
    {
        using var bench = new ServerBench(ServerBench.Plain with { Operations = new OperationLimits { Sessions = 3 } });
        BenchClient idle = bench.Connect();
        idle.CreateSession();
        for (int i = 0; i < 3; i++)
        {
            bench.Activated();
        }

        Assert.Equal(StatusCode.BadSessionIdInvalid, idle.TryActivate().ResponseHeader.ServiceResult);
        BenchClient late = bench.Connect();
        Assert.Equal(StatusCode.BadTooManySessions, late.AskFault(late.SessionRequest()));
    }

    [Fact]
    public void An_answer_too_large_for_the_client_is_a_fault_and_not_a_closed_socket()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Connect();
        client.CreateSession(responseBytesMax: 9000);
        client.Activate();
        ReadValueId[] many = [.. Enumerable.Repeat(new ReadValueId { NodeId = Outlet, AttributeId = 13 }, 1000)];
        Assert.Equal(StatusCode.BadResponseTooLarge, client.AskFault(new ReadRequest { NodesToRead = many }));
        Assert.Equal(StatusCode.Good, client.Read(Outlet).Status);
    }

    [Fact]
    public void Services_that_are_not_supported_are_faults()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        Assert.Equal(StatusCode.BadServiceUnsupported, client.AskFault(new HistoryReadRequest()));
        Assert.Equal(StatusCode.BadServiceUnsupported, client.AskFault(new OpenSecureChannelRequest()));
    }

    [Fact]
    public void Half_open_connections_are_bounded_and_end_in_time()
    {
        using var bench = new ServerBench(ServerBench.Plain with { Limits = new ServerLimits { HalfOpenConnectionsMax = 10, HalfOpenMsMax = 5_000 } });
        BenchClient honest = bench.Activated();
        List<BenchClient> flood = [.. Enumerable.Range(0, 100).Select(_ => bench.Connect())];
        Assert.Equal(90, flood.Count(static c => c.Peer.IsClosed));
        Assert.Equal(StatusCode.Good, honest.Read(Outlet).Status);
        bench.Run(5_100);
        Assert.All(flood, static c => Assert.True(c.Peer.IsClosed));
        Assert.False(honest.Peer.IsClosed);
    }

    [Fact]
    public void One_address_cannot_take_all_sessions()
    {
        using var bench = new ServerBench(ServerBench.Plain with { Limits = new ServerLimits { SessionsPerAddressMax = 2 } });
        bench.Activated();
        bench.Activated();
        BenchClient third = bench.Connect();
        Assert.Equal(StatusCode.BadTooManySessions, third.AskFault(third.SessionRequest()));
        var elsewhere = new BenchClient(bench, SecurityPolicy.None, MessageSecurityMode.None, "10.0.0.8");
        elsewhere.Pump();
        elsewhere.CreateSession();
        elsewhere.Activate();
    }

    [Fact]
    public void A_connection_whose_session_was_closed_counts_as_half_open_again()
    {
        using var bench = new ServerBench(ServerBench.Plain with { Limits = new ServerLimits { HalfOpenMsMax = 5_000 } });
        BenchClient client = bench.Activated();
        bench.Run(6_000);
        Assert.True(client.Peer.HasSession);
        client.Ask<CloseSessionResponse>(new CloseSessionRequest());
        Assert.False(client.Peer.HasSession);
        bench.Run(4_900);
        Assert.False(client.Peer.IsClosed);
        bench.Run(300);
        Assert.True(client.Peer.IsClosed);
    }

    [Fact]
    public void Point_9_publish_requests_left_on_the_old_channel_take_no_message_away()
    {
        using var bench = new ServerBench();
        BenchClient first = bench.Activated();
        uint id = first.Subscribe().SubscriptionId;
        first.Monitor(id, Outlet);
        first.Publish(3);
        BenchClient second = bench.Connect();
        (second.Token, second.ServerNonce) = (first.Token, first.ServerNonce);
        second.Activate();
        second.Publish();
        bench.Run(200);
        Assert.Single(second.NextData());
        Assert.Empty(first.NextData());
        Assert.True(second.Peer.HasSession);
        Assert.False(first.Peer.HasSession);
    }
}
