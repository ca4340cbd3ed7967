using CsCheck;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Transport;

namespace EdgeGuard.OpcUa.Tests.SecureChannel;

public sealed class ChannelTests
{
    public static readonly TheoryData<string, MessageSecurityMode> Secured = new()
    {
        { "Basic256Sha256", MessageSecurityMode.Sign },
        { "Basic256Sha256", MessageSecurityMode.SignAndEncrypt },
        { "Aes128_Sha256_RsaOaep", MessageSecurityMode.Sign },
        { "Aes128_Sha256_RsaOaep", MessageSecurityMode.SignAndEncrypt },
        { "Aes256_Sha256_RsaPss", MessageSecurityMode.Sign },
        { "Aes256_Sha256_RsaPss", MessageSecurityMode.SignAndEncrypt },
    };

    public static readonly TheoryData<string, MessageSecurityMode> All = new(
        ("None", MessageSecurityMode.None),
        ("Basic256Sha256", MessageSecurityMode.Sign),
        ("Basic256Sha256", MessageSecurityMode.SignAndEncrypt),
        ("Aes128_Sha256_RsaOaep", MessageSecurityMode.Sign),
        ("Aes128_Sha256_RsaOaep", MessageSecurityMode.SignAndEncrypt),
        ("Aes256_Sha256_RsaPss", MessageSecurityMode.Sign),
        ("Aes256_Sha256_RsaPss", MessageSecurityMode.SignAndEncrypt));

    [Theory]
    [MemberData(nameof(All))]
    public void Open_exchange_renew_exchange_and_close(string policy, MessageSecurityMode mode)
    {
        using var pair = EnginePair.Opened(Policy(policy), mode);
        Assert.Equal("opc.tcp://pilot-hall:4840", pair.Server.EndpointUrl);
        Assert.Equal((Policy(policy), mode, 41u), (pair.Server.Policy, pair.Server.Mode, pair.Server.ChannelId));
        Assert.Equal(policy is "None" ? null : TestParties.Client.Thumbprint, pair.Server.Peer?.Thumbprint);
        Assert.Equal(60_000u, pair.Client.RevisedLifetimeMs);
        uint first = pair.Client.TokenId;
        pair.Exchange([1, 2, 3], [4, 5]);
        pair.NowMs = pair.Client.RenewMs;
        pair.Client.Renew(pair.Now);
        pair.Pump();
        Assert.NotEqual(first, pair.Client.TokenId);
        for (int length = 0; length < 40; length++)
        {
            pair.Exchange(new byte[length], new byte[39 - length]);
        }

        pair.Client.CloseChannel(pair.Now);
        Assert.Equal(ConnectionStep.Closed, pair.ToServer());
        Assert.Equal(StatusCode.Good, pair.Server.CloseStatus);
        Assert.Equal(0, pair.Server.Output.Length);
    }

    // Keys above 2048 bits have the second length byte of the padding, on the side whose key it is.
    [Theory]
    [InlineData("Basic256Sha256")]
    [InlineData("Aes256_Sha256_RsaPss")]
    public void Keys_above_2048_bits_pad_with_two_length_bytes(string policy)
    {
        using var longServer = new EnginePair(Policy(policy), MessageSecurityMode.SignAndEncrypt, server: TestParties.LongKey);
        longServer.Pump();
        longServer.Exchange([1], [2]);
        using var longClient = new EnginePair(Policy(policy), MessageSecurityMode.SignAndEncrypt, client: TestParties.LongKey);
        longClient.Pump();
        longClient.Exchange([1], [2]);
    }

    [Theory]
    [MemberData(nameof(Secured))]
    public void A_message_with_any_bit_changed_is_refused(string policy, MessageSecurityMode mode) => Gen.Select(Gen.Int[8, 10_000], Gen.Int[0, 7], Gen.Bool).Sample(
        (at, bit, fromServer) =>
        {
            using EnginePair pair = Cheap(policy, mode);
            if (fromServer)
            {
                pair.Server.Send(7, new byte[100], pair.Now);
                byte[] bytes = Flip(pair.TakeFromServer(), at, bit);
                return pair.Client.Step(bytes, pair.Now, out _) == ConnectionStep.Closed && pair.Client.CloseStatus.IsBad();
            }

            pair.Client.Send(new byte[100], pair.Now, out _);
            byte[] changed = Flip(pair.TakeFromClient(), at, bit);
            return pair.Server.Step(changed, pair.Now, out _) == ConnectionStep.Closed && pair.Server.CloseStatus.IsBad() && ErrorOf(pair) == pair.Server.CloseStatus;
        },
        iter: 12, threads: 1);

    [Theory]
    [MemberData(nameof(All))]
    public void A_replayed_or_lost_chunk_ends_the_channel(string policy, MessageSecurityMode mode)
    {
        using var replay = EnginePair.Opened(Policy(policy), mode);
        replay.Client.Send([1], replay.Now, out _);
        byte[] once = replay.TakeFromClient();
        Assert.Equal(ConnectionStep.Message, replay.Server.Step([.. once], replay.Now, out _));
        Assert.Equal(ConnectionStep.Closed, replay.Server.Step([.. once], replay.Now, out _));
        Assert.Equal(StatusCode.BadSequenceNumberInvalid, replay.Server.CloseStatus);

        using var loss = EnginePair.Opened(Policy(policy), mode);
        loss.Client.Send([1], loss.Now, out _);
        loss.TakeFromClient();
        loss.Client.Send([2], loss.Now, out _);
        Assert.Equal(ConnectionStep.Closed, loss.ToServer());
        Assert.Equal(StatusCode.BadSequenceNumberInvalid, loss.Server.CloseStatus);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Sequence_numbers_wrap_in_the_middle_of_traffic(string policy, MessageSecurityMode mode)
    {
        using var pair = EnginePair.Opened(Policy(policy), mode);
        pair.Client.ForceSequence(SequenceState.WrapAbove - 2, 500);
        pair.Server.ForceSequence(500, SequenceState.WrapAbove - 2);
        for (int i = 0; i < 6; i++)
        {
            pair.Exchange([1], [2]);
        }
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Long_messages_go_both_ways_in_small_chunks(string policy, MessageSecurityMode mode)
    {
        var small = new TransportLimits { ReceiveChunkBytesMax = 8192, SendChunkBytesMax = 8192, ReceiveMessageBytesMax = 100_000, ReceiveChunkCountMax = 14 };
        using var pair = EnginePair.Opened(Policy(policy), mode, small, small);
        byte[] request = [.. Enumerable.Range(0, 100_000).Select(i => (byte)(i * 7 % 251))];
        byte[] answer = [.. Enumerable.Range(0, 65_432).Select(i => (byte)(i * 11 % 251))];
        pair.Exchange(request, answer);

        // One byte more than the peer takes: refused before anything is sent, and the channel goes on.
        Assert.Equal(StatusCode.BadRequestTooLarge, pair.Client.Send(new byte[100_001], pair.Now, out _));
        Assert.Equal(StatusCode.BadResponseTooLarge, pair.Server.Send(9, new byte[100_001], pair.Now));
        Assert.Equal(0, pair.Client.Output.Length + pair.Server.Output.Length);
        pair.Exchange([1], [2]);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Every_chunk_keeps_to_the_agreed_size_at_its_edges(string policy, MessageSecurityMode mode)
    {
        var small = new TransportLimits { SendChunkBytesMax = 8192 };
        using var pair = EnginePair.Opened(Policy(policy), mode, clientLimits: small);
        int room = SymmetricChunkCodec.BodyBytesMax(mode, 8192);
        foreach (int length in (int[])[room - 1, room, room + 1, 2 * room])
        {
            pair.Client.Send(new byte[length], pair.Now, out _);
            byte[] bytes = pair.TakeFromClient();
            int first = BitConverter.ToInt32(bytes, 4);
            Assert.InRange(first, 8192 - 40, 8192);
            Assert.Equal(length > room ? (byte)'C' : (byte)'F', bytes[3]);
            Assert.Equal(ConnectionStep.Message, pair.Server.Step(bytes, pair.Now, out _));
            Assert.Equal(length, pair.Server.Message.Length);
        }
    }

    [Fact]
    public void Bytes_may_arrive_one_at_a_time()
    {
        using var pair = EnginePair.Opened(SecurityPolicy.Basic256Sha256, MessageSecurityMode.SignAndEncrypt);
        pair.Client.Send([1, 2, 3], pair.Now, out _);
        byte[] bytes = pair.TakeFromClient();
        for (int i = 1; i < bytes.Length; i++)
        {
            Assert.Equal(ConnectionStep.NeedMore, pair.Server.Step(bytes.AsSpan(0, i), pair.Now, out int consumed));
            Assert.Equal(0, consumed);
        }

        Assert.Equal(ConnectionStep.Message, pair.Server.Step(bytes, pair.Now, out int all));
        Assert.Equal(bytes.Length, all);
        Assert.Equal([1, 2, 3], pair.Server.Message.ToArray());
    }

    [Fact]
    public void An_aborted_message_is_dropped_and_the_next_one_is_whole()
    {
        using var pair = EnginePair.Opened(SecurityPolicy.Aes128Sha256RsaOaep, MessageSecurityMode.Sign);
        Assert.True(pair.Client.SendChunk(UaTcpMessageType.Message, ChunkKind.Intermediate, 90, [1, 2], pair.Now));
        Assert.Equal(ConnectionStep.NeedMore, pair.ToServer());
        pair.Client.SendAbort(90, StatusCode.BadRequestCancelledByClient, "given up", pair.Now);
        Assert.Equal(ConnectionStep.Aborted, pair.ToServer());
        Assert.Equal((90u, StatusCode.BadRequestCancelledByClient), (pair.Server.RequestId, pair.Server.AbortStatus));
        pair.Exchange([3], [4]);
    }

    [Fact]
    public void Chunks_of_two_messages_must_not_mix()
    {
        using var pair = EnginePair.Opened(SecurityPolicy.None, MessageSecurityMode.None);
        pair.Client.SendChunk(UaTcpMessageType.Message, ChunkKind.Intermediate, 90, [1, 2], pair.Now);
        pair.Client.SendChunk(UaTcpMessageType.Message, ChunkKind.Final, 91, [3], pair.Now);
        Assert.Equal(ConnectionStep.Closed, pair.ToServer());
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Chunks_without_end_are_cut_off_by_count_and_by_size(bool empty)
    {
        using var pair = EnginePair.Opened(SecurityPolicy.None, MessageSecurityMode.None, new TransportLimits { ReceiveMessageBytesMax = 50_000, ReceiveChunkCountMax = 10 });
        int sent = 0;
        while (pair.Server.State == ConnectionState.Open && sent < 100)
        {
            pair.Client.SendChunk(UaTcpMessageType.Message, ChunkKind.Intermediate, 90, new byte[empty ? 0 : 20_000], pair.Now);
            pair.ToServer();
            sent++;
        }

        Assert.Equal(empty ? 11 : 3, sent);
        Assert.Equal(StatusCode.BadTcpMessageTooLarge, pair.Server.CloseStatus);
        Assert.Equal(StatusCode.BadTcpMessageTooLarge, ErrorOf(pair));
    }

    [Fact]
    public void A_peer_that_does_not_read_is_cut_off_at_the_bound_of_the_output()
    {
        using var pair = new EnginePair(SecurityPolicy.None, MessageSecurityMode.None);
        using var server = new ServerConnection(pair.ServerOptions with { OutputBytesMax = 100_000 }, new ChannelIds(), pair.Now);
        server.Step(pair.TakeFromClient(), pair.Now, out _);
        pair.Client.Step(server.Output.ToArray(), pair.Now, out _);
        server.Step(pair.TakeFromClient(), pair.Now, out _);
        int sent = 0;
        while (server.Send(1, new byte[1000], pair.Now) == StatusCode.Good)
        {
            sent++;
        }

        Assert.InRange(sent, 90, 99);
        Assert.Equal((ConnectionState.Closed, StatusCode.BadTcpNotEnoughResources), (server.State, server.CloseStatus));
    }

    // Encryption makes the system library set up a cipher for each chunk; the bound keeps it from growing unnoticed.
    [Theory]
    [InlineData("None", MessageSecurityMode.None, 0)]
    [InlineData("Basic256Sha256", MessageSecurityMode.Sign, 0)]
    [InlineData("Basic256Sha256", MessageSecurityMode.SignAndEncrypt, 700)]
    public void A_message_costs_little_memory_once_the_buffers_have_grown(string policy, MessageSecurityMode mode, long bytesMax)
    {
        using var pair = EnginePair.Opened(Policy(policy), mode);
        byte[] body = new byte[2_000];
        byte[] wire = new byte[4_096];
        long before = 0;
        int ended = 0;
        for (int i = 0; i < 1_100; i++)
        {
            before = i == 100 ? GC.GetAllocatedBytesForCurrentThread() : before;
            pair.Client.Send(body, pair.Now, out _);
            int length = pair.Client.Output.Length;
            pair.Client.Output.CopyTo(wire);
            pair.Client.ClearOutput();
            ended += pair.Server.Step(wire.AsSpan(0, length), pair.Now, out _) == ConnectionStep.Message ? 0 : 1;
        }

        long perMessage = (GC.GetAllocatedBytesForCurrentThread() - before) / 1_000;
        Assert.Equal(0, ended);
        Assert.InRange(perMessage, 0, bytesMax);
    }

    internal static SecurityPolicy Policy(string name) => SecurityPolicy.All.Single(p => string.Equals(p.Name, name, StringComparison.Ordinal));

    private static EnginePair Cheap(string policy, MessageSecurityMode mode) => EnginePair.Opened(Policy(policy), mode);

    private static byte[] Flip(byte[] bytes, int at, int bit)
    {
        bytes[8 + (at % (bytes.Length - 8))] ^= (byte)(1 << bit);
        return bytes;
    }

    private static StatusCode ErrorOf(EnginePair pair)
    {
        byte[] error = pair.TakeFromServer();
        Assert.Equal("ERRF"u8.ToArray(), error[..4]);
        Assert.Equal(StatusCode.Good, UaTcpCodec.TryReadError(error.AsSpan(8), out StatusCode status, out _));
        return status;
    }
}
