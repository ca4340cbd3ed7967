using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.SecureChannel;

/// <summary>OPN on an open channel, written by hand: a renewal may change nothing but the token (OPC 10000-4, OpenSecureChannel).</summary>
public sealed class RenewalTests
{
    private static readonly SecurityPolicy Policy = SecurityPolicy.Basic256Sha256;

    [Fact]
    public void A_renewal_that_changes_nothing_gets_a_new_token()
    {
        using EnginePair pair = Opened();
        IServiceResponse answer = Renew(pair, Request())!;
        Assert.Equal(2u, Assert.IsType<OpenSecureChannelResponse>(answer).SecurityToken.TokenId);
        Assert.Equal(41u, ((OpenSecureChannelResponse)answer).SecurityToken.ChannelId);
        Assert.Equal(77u, answer.ResponseHeader.RequestHandle);
    }

    // A fault for a genuine but impossible request; the channel and its token stay as they are.
    [Theory]
    [InlineData(MessageSecurityMode.Sign, SecurityTokenRequestType.Renew, 32, StatusCode.BadSecurityModeRejected)]
    [InlineData(MessageSecurityMode.None, SecurityTokenRequestType.Renew, 32, StatusCode.BadSecurityModeRejected)]
    [InlineData(MessageSecurityMode.SignAndEncrypt, SecurityTokenRequestType.Issue, 32, StatusCode.BadRequestTypeInvalid)]
    [InlineData(MessageSecurityMode.SignAndEncrypt, (SecurityTokenRequestType)7, 32, StatusCode.BadRequestTypeInvalid)]
    [InlineData(MessageSecurityMode.SignAndEncrypt, SecurityTokenRequestType.Renew, 31, StatusCode.BadNonceInvalid)]
    [InlineData(MessageSecurityMode.SignAndEncrypt, SecurityTokenRequestType.Renew, 0, StatusCode.BadNonceInvalid)]
    public void A_renewal_that_asks_for_something_else_gets_a_fault_and_the_channel_goes_on(MessageSecurityMode mode, SecurityTokenRequestType type, int nonceBytes, StatusCode expected)
    {
        using EnginePair pair = Opened();
        OpenSecureChannelRequest request = Request();
        (request.SecurityMode, request.RequestType, request.ClientNonce) = (mode, type, new byte[nonceBytes]);
        ServiceFault fault = Assert.IsType<ServiceFault>(Renew(pair, request));
        Assert.Equal((expected, 77u), (fault.ResponseHeader.ServiceResult, fault.ResponseHeader.RequestHandle));
        Assert.Equal(ConnectionState.Open, pair.Server.State);
        pair.Client.ForceSequence(sent: 2, received: 2);
        pair.Exchange([1], [2]);
    }

    [Fact]
    public void A_renewal_for_another_channel_ends_the_connection()
    {
        using EnginePair pair = Opened();
        Assert.Null(Renew(pair, Request(), channelId: 42));
        Assert.Equal(StatusCode.BadSecurityChecksFailed, pair.Server.CloseStatus);
    }

    [Fact]
    public void A_renewal_with_another_trusted_certificate_ends_the_connection()
    {
        using EnginePair pair = Opened();
        Assert.Null(Renew(pair, Request(), sender: TestParties.Stranger));
        Assert.Equal(StatusCode.BadSecurityChecksFailed, pair.Server.CloseStatus);
        Assert.Contains("another certificate", pair.Server.CloseCause, StringComparison.Ordinal);
    }

    [Fact]
    public void A_renewal_signed_by_another_than_its_certificate_names_ends_the_connection()
    {
        using EnginePair pair = Opened();
        byte[] bytes = Written(pair, Request(), 41, TestParties.Client);
        bytes[^1] ^= 1;
        Assert.Equal(ConnectionStep.Closed, pair.Server.Step(bytes, pair.Now, out _));
        Assert.Equal(StatusCode.BadSecurityChecksFailed, pair.Server.CloseStatus);
    }

    [Fact]
    public void A_certificate_that_is_no_longer_trusted_ends_the_channel_at_its_renewal()
    {
        var judge = new RevokingJudge();
        using var pair = new EnginePair(Policy, MessageSecurityMode.SignAndEncrypt, judge: judge);
        pair.Pump();
        pair.Exchange([1], [2]);
        judge.Revoked = true;
        pair.Client.Renew(pair.Now);
        Assert.Equal(ConnectionStep.Closed, pair.ToServer());
        Assert.Contains("revoked this morning", pair.Server.CloseCause, StringComparison.Ordinal);
    }

    private static EnginePair Opened()
    {
        var pair = new EnginePair(Policy, MessageSecurityMode.SignAndEncrypt, judge: new ListJudge(TestParties.Client, TestParties.Stranger));
        pair.Pump();
        Assert.Equal(ConnectionState.Open, pair.Server.State);
        return pair;
    }

    private static OpenSecureChannelRequest Request() => new()
    {
        RequestHeader = new RequestHeader { RequestHandle = 77 },
        RequestType = SecurityTokenRequestType.Renew,
        SecurityMode = MessageSecurityMode.SignAndEncrypt,
        ClientNonce = new byte[32],
        RequestedLifetime = 60_000,
    };

    // The answer decrypted with the client's key, or null when the server sent none.
    private static IServiceResponse? Renew(EnginePair pair, OpenSecureChannelRequest request, uint channelId = 41, ApplicationInstance? sender = null)
    {
        pair.Server.Step(Written(pair, request, channelId, sender ?? TestParties.Client), pair.Now, out _);
        byte[] answer = pair.TakeFromServer();
        if (!answer.AsSpan(0, 3).SequenceEqual("OPN"u8))
        {
            return null;
        }

        using PeerCertificate server = PeerCertificate.TryLoad(TestParties.Server.Der, Policy, out _)!;
        Assert.Equal(StatusCode.Good, AsymmetricHeader.TryRead(answer, out AsymmetricHeader header));
        Assert.Equal(StatusCode.Good, AsymmetricChunkCodec.TryOpen(answer, header.ClearBytes, Policy, TestParties.Client, server, new byte[answer.Length], out SequenceHeader sequence, out ReadOnlySpan<byte> body));
        Assert.Equal((2u, 50u), (sequence.SequenceNumber, sequence.RequestId));
        Assert.Equal(StatusCode.Good, ServiceMessage.TryReadResponse(body, UaLimits.Default, out IServiceResponse? response));
        return response;
    }

    private static byte[] Written(EnginePair pair, OpenSecureChannelRequest request, uint channelId, ApplicationInstance sender)
    {
        using PeerCertificate server = PeerCertificate.TryLoad(pair.ServerOptions.Instance!.Der, Policy, out _)!;
        byte[] body = Wire.Bytes(w => ServiceMessage.Write(w, request));
        using var writer = new UaWriter();
        Assert.True(AsymmetricChunkCodec.TryWrite(writer, channelId, Policy, sender, server, new SequenceHeader(2, 50), body));
        return writer.Written.ToArray();
    }
}
