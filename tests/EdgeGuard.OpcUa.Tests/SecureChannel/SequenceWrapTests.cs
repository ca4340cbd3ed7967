using CsCheck;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Transport;

namespace EdgeGuard.OpcUa.Tests.SecureChannel;

/// <summary>
/// The wrap of sequence numbers on a whole channel (OPC 10000-6, 6.7.2.4): above 4 294 966 271 a sender may go on at any
/// number below 1024, in both directions, between messages and in the middle of one.
/// </summary>
public sealed class SequenceWrapTests
{
    private static readonly Gen<uint> Above = Gen.UInt[SequenceState.WrapAbove + 1, uint.MaxValue];

    [Fact]
    public void A_client_may_wrap_from_anywhere_above_to_anywhere_below() => Gen.Select(Above, Gen.UInt[1, SequenceState.WrapBelow - 1]).Sample(
        (last, next) =>
        {
            using EnginePair pair = Opened();
            pair.Server.ForceSequence(sent: 500, received: last);
            pair.Client.ForceSequence(sent: next - 1, received: 500);
            pair.Exchange([1], [2]);
            pair.Exchange([3], [4]);
        },
        iter: 200);

    [Fact]
    public void A_server_may_wrap_from_anywhere_above_to_anywhere_below() => Gen.Select(Above, Gen.UInt[1, SequenceState.WrapBelow - 1]).Sample(
        (last, next) =>
        {
            using EnginePair pair = Opened();
            pair.Server.ForceSequence(sent: next - 1, received: 500);
            pair.Client.ForceSequence(sent: 500, received: last);
            pair.Exchange([1], [2]);
            pair.Exchange([3], [4]);
        },
        iter: 200);

    // 1024 itself is too high, and from 4 294 966 271 it is too early.
    [Theory]
    [InlineData(uint.MaxValue, 1024)]
    [InlineData(4_294_966_272, 1024)]
    [InlineData(4_294_966_271, 1)]
    [InlineData(4_294_966_271, 1023)]
    [InlineData(4_294_966_000, 5)]
    public void A_wrap_too_early_or_to_too_high_a_number_ends_the_channel_in_both_directions(uint last, uint next)
    {
        using EnginePair pair = Opened();
        pair.Server.ForceSequence(sent: 500, received: last);
        pair.Client.ForceSequence(sent: next - 1, received: 500);
        pair.Client.Send([1], pair.Now, out _);
        Assert.Equal(ConnectionStep.Closed, pair.ToServer());
        Assert.Equal(StatusCode.BadSequenceNumberInvalid, pair.Server.CloseStatus);

        using EnginePair other = Opened();
        other.Server.ForceSequence(sent: next - 1, received: 500);
        other.Client.ForceSequence(sent: 500, received: last);
        other.Server.Send(7, [1], other.Now);
        Assert.Equal(ConnectionStep.Closed, other.ToClient());
        Assert.Equal(StatusCode.BadSequenceNumberInvalid, other.Client.CloseStatus);
    }

    // Messages of 13 and 8 chunks, so that each direction wraps in the middle of one; then a renewal, which does not reset the numbers.
    [Fact]
    public void Both_directions_wrap_in_the_middle_of_a_message_and_go_on_over_a_renewal()
    {
        var small = new TransportLimits { ReceiveChunkBytesMax = 8192, SendChunkBytesMax = 8192 };
        using EnginePair pair = EnginePair.Opened(SecurityPolicy.Basic256Sha256, MessageSecurityMode.SignAndEncrypt, small, small);
        pair.Client.ForceSequence(sent: SequenceState.WrapAbove - 5, received: SequenceState.WrapAbove - 3);
        pair.Server.ForceSequence(sent: SequenceState.WrapAbove - 3, received: SequenceState.WrapAbove - 5);
        pair.Exchange(new byte[100_000], new byte[65_000]);
        pair.Client.Renew(pair.Now);
        pair.Pump();
        pair.Exchange([1], [2]);
        Assert.Equal((ConnectionState.Open, ConnectionState.Open), (pair.Client.State, pair.Server.State));
    }

    private static EnginePair Opened() => EnginePair.Opened(SecurityPolicy.None, MessageSecurityMode.None);
}
