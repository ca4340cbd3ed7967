using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.OpcUa.Tests.SecureChannel;
using EdgeGuard.OpcUa.Tests.Server;

namespace EdgeGuard.OpcUa.Tests.Sessions;

/// <summary>Users: passwords and certificates (OPC 10000-4, 7.41), guessing, and what happens to the user when the channel changes.</summary>
public sealed class UserTests
{
    [Theory]
    [InlineData("None", MessageSecurityMode.None, "Basic256Sha256")]
    [InlineData("Basic256Sha256", MessageSecurityMode.SignAndEncrypt, "Basic256Sha256")]
    [InlineData("Aes256_Sha256_RsaPss", MessageSecurityMode.Sign, "Aes256_Sha256_RsaPss")]
    public void Point_3_a_password_is_taken_encrypted_with_the_last_nonce(string channel, MessageSecurityMode mode, string secret)
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient client = bench.Connect(Policy(channel), mode);
        client.CreateSession();
        client.Activate(Token(client, "operator", BenchUsers.Password, Policy(secret)));
        Assert.Equal(StatusCode.Good, client.TryActivate(Token(client, "operator", BenchUsers.Password, Policy(secret))).ResponseHeader.ServiceResult);
    }

    [Fact]
    public void A_long_password_over_several_blocks_is_taken_apart_and_found_wrong()
    {
        var users = new BenchUsers();
        using var bench = new ServerBench(ServerBench.Secured(users));
        BenchClient client = bench.Connect();
        client.CreateSession();
        Assert.Equal(StatusCode.BadUserAccessDenied, client.TryActivate(Token(client, "operator", new string('x', 700), SecurityPolicy.Basic256Sha256)).ResponseHeader.ServiceResult);
        Assert.Equal(1, users.Asked);
    }

    [Fact]
    public void A_password_in_clear_is_taken_from_within_an_encrypted_channel_only()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        var clear = new UserNameIdentityToken { UserName = "operator", Password = "pellets-650"u8.ToArray() };
        BenchClient open = bench.Connect();
        open.CreateSession();
        Assert.Equal(StatusCode.BadUserAccessDenied, open.TryActivate(clear).ResponseHeader.ServiceResult);
        BenchClient encrypted = bench.Connect(SecurityPolicy.Basic256Sha256, MessageSecurityMode.SignAndEncrypt);
        encrypted.CreateSession();
        encrypted.Activate(clear);
    }

    [Fact]
    public void A_password_recorded_from_an_older_nonce_is_refused()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient client = bench.Connect();
        client.CreateSession();
        UserNameIdentityToken old = Token(client, "operator", BenchUsers.Password, SecurityPolicy.Basic256Sha256);
        client.Activate();
        Assert.Equal(StatusCode.BadUserAccessDenied, client.TryActivate(old).ResponseHeader.ServiceResult);
    }

    [Fact]
    public void Guessing_is_locked_out_for_a_time()
    {
        var users = new BenchUsers();
        using var bench = new ServerBench(ServerBench.Secured(users) with { Throttle = new LoginThrottleOptions { FreeAttempts = 3, FirstWaitMs = 60_000, UserWaitMsMax = 60_000, AddressWaitMsMax = 60_000 } });
        BenchClient client = bench.Connect();
        client.CreateSession(timeoutMs: 600_000);
        client.Activate();
        for (int i = 0; i < 10; i++)
        {
            Assert.Equal(StatusCode.BadUserAccessDenied, client.TryActivate(Token(client, "operator", "guess", SecurityPolicy.Basic256Sha256)).ResponseHeader.ServiceResult);
        }

        // Three are free, the fourth begins the wait.
        Assert.Equal(4, users.Asked);
        Assert.Equal(StatusCode.BadUserAccessDenied, client.TryActivate(Token(client, "operator", BenchUsers.Password, SecurityPolicy.Basic256Sha256)).ResponseHeader.ServiceResult);
        bench.Run(60_100);
        client.Activate(Token(client, "operator", BenchUsers.Password, SecurityPolicy.Basic256Sha256));
    }

    [Fact]
    public void A_user_certificate_is_taken_with_its_proof_only()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient client = bench.Connect(SecurityPolicy.Basic256Sha256, MessageSecurityMode.Sign);
        client.CreateSession();
        var token = new X509IdentityToken { PolicyId = "certificate", CertificateData = TestParties.Client.Der };
        Assert.Equal(StatusCode.BadUserSignatureInvalid, client.TryActivate(token).ResponseHeader.ServiceResult);
        SignatureData proof = SignatureProof.Create(SecurityPolicy.Basic256Sha256, TestParties.Client, TestParties.Server.Der, client.ServerNonce);
        Assert.Equal(StatusCode.Good, client.TryActivate(token, proof).ResponseHeader.ServiceResult);
    }

    [Fact]
    public void A_session_that_changes_its_channel_keeps_its_user()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient first = bench.Connect();
        first.CreateSession();
        first.Activate(Token(first, "operator", BenchUsers.Password, SecurityPolicy.Basic256Sha256));
        BenchClient second = bench.Connect();
        (second.Token, second.ServerNonce) = (first.Token, first.ServerNonce);
        Assert.Equal(StatusCode.BadIdentityChangeNotSupported, second.TryActivate().ResponseHeader.ServiceResult);
        second.Activate(Token(second, "operator", BenchUsers.Password, SecurityPolicy.Basic256Sha256));
    }

    private static SecurityPolicy Policy(string name) => SecurityPolicy.All.Single(p => string.Equals(p.Name, name, StringComparison.Ordinal));

    internal static UserNameIdentityToken Token(BenchClient client, string user, string password, SecurityPolicy policy)
    {
        using PeerCertificate server = PeerCertificate.TryLoad(TestParties.Server.Der, policy, out _)!;
        return new UserNameIdentityToken
        {
            PolicyId = "username-" + policy.Name,
            UserName = user,
            Password = TokenSecret.Seal(policy, server, System.Text.Encoding.UTF8.GetBytes(password), client.ServerNonce),
            EncryptionAlgorithm = policy.EncryptionAlgorithmUri,
        };
    }
}
