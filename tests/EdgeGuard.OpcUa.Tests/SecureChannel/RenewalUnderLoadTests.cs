using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Transport;

namespace EdgeGuard.OpcUa.Tests.SecureChannel;

/// <summary>
/// Tokens renewed while many messages are on their way in both directions, their bytes arriving in pieces of any length:
/// each request and each answer arrives once and in order, whichever of the two tokens it was sent under, and neither side
/// ends the channel.
/// </summary>
public sealed class RenewalUnderLoadTests
{
    private const int Steps = 2_000;
    private const int LargestBytes = 40_000;
    private const uint LifetimeMs = 20_000;

    [Theory]
    [InlineData("None", MessageSecurityMode.None)]
    [InlineData("Basic256Sha256", MessageSecurityMode.Sign)]
    [InlineData("Basic256Sha256", MessageSecurityMode.SignAndEncrypt)]
    [InlineData("Aes256_Sha256_RsaPss", MessageSecurityMode.SignAndEncrypt)]
    public void Renewals_in_the_middle_of_traffic_lose_and_repeat_nothing(string policy, MessageSecurityMode mode)
    {
        var random = new Random(20_261);
        var small = new TransportLimits { ReceiveChunkBytesMax = 8192, SendChunkBytesMax = 8192 };
        using EnginePair pair = EnginePair.Opened(ChannelTests.Policy(policy), mode, small, small, LifetimeMs);
        var load = new TwoWayLoad(pair, random, LargestBytes);
        int renewals = 0;
        long renewedMs = pair.NowMs;
        for (int step = 0; step < Steps; step++)
        {
            // The client renews at any time after half of the lifetime, and never with a renewal on its way.
            if (pair.NowMs - renewedMs > LifetimeMs / 2 && load.IsRenewed)
            {
                load.Renew();
                (renewals, renewedMs) = (renewals + 1, pair.NowMs);
            }

            load.Step();
            pair.NowMs += random.Next(300);
            Assert.True(pair.Server.State == ConnectionState.Open && pair.Client.State == ConnectionState.Open, $"step {step}: {pair.Server.CloseCause ?? pair.Client.CloseCause}");
        }

        load.Drain();
        Assert.True(renewals > 20, $"{renewals} renewals");
        Assert.True(load.OnTheirWayAtRenewal > renewals, $"only {load.OnTheirWayAtRenewal} messages were on their way at {renewals} renewals");
        Assert.True(load.Requests > Steps / 4, $"{load.Requests} requests");
        Assert.Equal(load.Requests, load.RequestsTaken);
        Assert.Equal(load.Requests, load.AnswersTaken);
    }
}
