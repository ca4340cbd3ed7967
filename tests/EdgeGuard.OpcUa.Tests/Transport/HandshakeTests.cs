using EdgeGuard.OpcUa.Transport;
using static EdgeGuard.OpcUa.Tests.Wire;

namespace EdgeGuard.OpcUa.Tests.Transport;

/// <summary>HEL, ACK and ERR: bytes computed from the tables of OPC 10000-6, 7.1.2.3 to 7.1.2.5.</summary>
public sealed class HandshakeTests
{
    private const string HelloHex = "48454C4638000000" + "00000000" + "FFFF0000" + "FFFF0000" + "00000000" + "00000000" + "18000000" + "6F70632E7463703A2F2F6C6F63616C686F73743A34383430";

    [Fact]
    public void Hello_has_the_56_bytes_of_the_table()
    {
        var hello = new HelloMessage(0, 65_535, 65_535, 0, 0, "opc.tcp://localhost:4840");
        Assert.Equal(HelloHex, Written(w => UaTcpCodec.WriteHello(w, hello)));
        Assert.Equal(StatusCode.Good, UaTcpCodec.TryReadHello(Hex(HelloHex).AsSpan(8), out HelloMessage back));
        Assert.Equal(hello, back);
    }

    [Fact]
    public void Acknowledge_has_the_28_bytes_of_the_table()
    {
        var acknowledge = new AcknowledgeMessage(0, 8192, 65_535, 1_000_000, 16);
        const string Expected = "41434B461C000000" + "00000000" + "00200000" + "FFFF0000" + "40420F00" + "10000000";
        Assert.Equal(Expected, Written(w => UaTcpCodec.WriteAcknowledge(w, acknowledge)));
        Assert.Equal(StatusCode.Good, UaTcpCodec.TryReadAcknowledge(Hex(Expected).AsSpan(8), out AcknowledgeMessage back));
        Assert.Equal(acknowledge, back);
    }

    [Fact]
    public void Error_and_ReverseHello_come_back()
    {
        byte[] error = Bytes(w => UaTcpCodec.WriteError(w, StatusCode.BadTcpMessageTooLarge, new string('x', 9000)));
        Assert.Equal(StatusCode.Good, UaTcpCodec.TryReadError(error.AsSpan(8), out StatusCode status, out string? reason));
        Assert.Equal(StatusCode.BadTcpMessageTooLarge, status);
        Assert.Equal(1024, reason!.Length);
        byte[] reverse = Bytes(w => UaTcpCodec.WriteReverseHello(w, "urn:a", "opc.tcp://a:1"));
        Assert.Equal("RHEF"u8.ToArray(), reverse[..4]);
        Assert.Equal(StatusCode.Good, UaTcpCodec.TryReadReverseHello(reverse.AsSpan(8), out string? uri, out string? url));
        Assert.Equal(("urn:a", "opc.tcp://a:1"), (uri, url));
    }

    [Fact]
    public void A_URL_above_4096_bytes_is_refused_by_its_declared_length()
    {
        byte[] body = [.. new byte[20], 0x01, 0x10, 0, 0];
        Assert.Equal(StatusCode.BadTcpEndpointUrlInvalid, UaTcpCodec.TryReadHello(body, out _));
    }

    // The buffers of ACK: not larger than the client asked, and at least 8192 when it asked for 8192 or more.
    [Theory]
    [InlineData(65_535, 65_535, 65_535, 65_535)]
    [InlineData(8192, 8192, 8192, 8192)]
    [InlineData(1_000_000, 100_000, 65_536, 65_536)]
    [InlineData(1024, 2048, 1024, 2048)]
    [InlineData(uint.MaxValue, uint.MaxValue, 65_536, 65_536)]
    public void Acknowledge_never_grants_more_than_was_asked(uint clientReceives, uint clientSends, uint serverSends, uint serverReceives)
    {
        Assert.True(new TransportLimits().TryAgree(new HelloMessage(0, clientReceives, clientSends, 0, 0, ""), out TransportLimits agreed));
        AcknowledgeMessage acknowledge = agreed.ToAcknowledge();
        Assert.Equal((serverReceives, serverSends), (acknowledge.ReceiveBufferBytes, acknowledge.SendBufferBytes));
    }

    [Theory]
    [InlineData(1023, 65_535)]
    [InlineData(65_535, 0)]
    public void Buffers_below_1024_are_refused(uint clientReceives, uint clientSends)
    {
        Assert.False(new TransportLimits().TryAgree(new HelloMessage(0, clientReceives, clientSends, 0, 0, ""), out _));
    }

    [Theory]
    [InlineData("4D534746FFFFFFFF", StatusCode.BadTcpMessageTooLarge)] // 4 GiB declared
    [InlineData("4D53474601000100", StatusCode.BadTcpMessageTooLarge)] // 65 537, one over
    [InlineData("4D53474607000000", StatusCode.BadDecodingError)] // shorter than its own header
    [InlineData("4D53475808000000", StatusCode.BadTcpMessageTypeInvalid)] // MSGX
    [InlineData("48454C4308000000", StatusCode.BadTcpMessageTypeInvalid)] // HELC
    [InlineData("4F504E4308000000", StatusCode.BadTcpMessageTypeInvalid)] // OPNC: OPN is one chunk
    [InlineData("474554202F204854", StatusCode.BadTcpMessageTypeInvalid)] // GET / HT
    [InlineData("1603010200010001", StatusCode.BadTcpMessageTypeInvalid)] // a TLS hello
    public void A_header_that_may_not_be_received_is_refused_before_its_bytes_arrive(string hex, StatusCode expected)
    {
        Assert.Equal(FrameStatus.Invalid, ChunkFramer.Peek(Hex(hex), 65_536, out _, out StatusCode error));
        Assert.Equal(expected, error);
        Assert.Equal(FrameStatus.Incomplete, ChunkFramer.Peek(Hex(hex).AsSpan(0, 7), 65_536, out _, out _));
    }

    // OPC 10000-6, 6.7.2.4: one above the last; may wrap above 4 294 966 271 to below 1024.
    [Theory]
    [InlineData(5, 6, true)]
    [InlineData(5, 5, false)]
    [InlineData(5, 7, false)]
    [InlineData(5, 4, false)]
    [InlineData(4_294_966_271, 4_294_966_272, true)]
    [InlineData(4_294_966_271, 1, false)]
    [InlineData(4_294_966_272, 0, true)]
    [InlineData(4_294_966_272, 1023, true)]
    [InlineData(4_294_966_272, 1024, false)]
    [InlineData(4_294_967_295, 1, true)]
    [InlineData(4_294_967_295, 4_294_967_295, false)]
    public void Sequence_numbers_follow_one_another_and_wrap_where_the_standard_says(uint last, uint next, bool accepted)
    {
        var sequence = new SequenceState(last);
        Assert.Equal(accepted, sequence.TryAccept(next));
        Assert.Equal(accepted ? next : last, sequence.Last);
    }

    [Fact]
    public void A_sender_wraps_to_below_1024_and_the_receiver_follows()
    {
        var sender = new SequenceState(SequenceState.WrapAbove - 3);
        var receiver = new SequenceState(SequenceState.WrapAbove - 3);
        uint highest = 0;
        for (int i = 0; i < 10; i++)
        {
            uint number = sender.Next();
            highest = Math.Max(highest, number);
            Assert.True(receiver.TryAccept(number), $"{number} was not accepted");
        }

        Assert.Equal(6u, sender.Last);
        Assert.Equal(SequenceState.WrapAbove + 1, highest);
        Assert.Equal(6u, receiver.Last);
    }
}
