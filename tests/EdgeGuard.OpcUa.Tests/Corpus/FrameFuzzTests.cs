using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Tests.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.Corpus;

/// <summary>
/// The OpenSecureChannel an independent client sent for each policy, mutated. Its receiver is this server, so that what
/// passes the cheap checks goes on to the certificate and the private key: nothing throws, no channel opens, and an end has
/// its cause.
/// </summary>
public sealed class FrameFuzzTests
{
    [Theory]
    [InlineData("None", 20_000)]
    [InlineData("Basic256Sha256", 500)]
    [InlineData("Aes128_Sha256_RsaOaep", 500)]
    [InlineData("Aes256_Sha256_RsaPss", 500)]
    public void Mutated_OpenSecureChannel_of_an_independent_client_ends_with_a_cause_or_goes_on(string policy, int sample)
    {
        byte[] hello = Seed("HEL", policy);
        byte[] open = ForThisServer(Seed("OPN", policy));
        byte[] other = Seed("OPN", "None");
        byte[] buffer = new byte[open.Length + Mutation.RoomBytes];
        bool isPlain = policy == "None";
        using var pair = new EnginePair(SecurityPolicy.None, MessageSecurityMode.None, judge: new AcceptingJudge());
        (int inputs, int opened, int toTheKey) = (FuzzScale.Of(sample), 0, 0);
        for (int number = 0; number < inputs; number++)
        {
            int length = Mutate(open, other, buffer, new Random(number));
            using var server = new ServerConnection(pair.ServerOptions, new ChannelIds(), pair.Now);
            server.Step(hello.AsSpan().ToArray(), pair.Now, out _);
            Exception? thrown = Record.Exception(() => server.Step(buffer.AsSpan(0, length), pair.Now, out _));
            Assert.True(thrown is null, $"mutation {number}: {thrown}");
            Assert.True(server.State != ConnectionState.Closed || server.CloseCause is not null, $"mutation {number} ended without a cause");
            opened += server.State == ConnectionState.Open ? 1 : 0;
            toTheKey += server.CloseCause?.Contains("does not decrypt", StringComparison.Ordinal) == true ? 1 : 0;
        }

        FuzzScale.Tell(inputs, "mutated OpenSecureChannel of an independent client, " + policy);
        Assert.True(isPlain ? opened > inputs / 100 : opened == 0, $"{opened} of {inputs} opened a channel");
        Assert.True(isPlain || toTheKey > inputs / 20, $"only {toTheKey} of {inputs} came as far as the private key");
    }

    private static byte[] Seed(string type, string policy) => CorpusFolder.Frames.First(file => file.Type == $"{type}-{policy}").Bytes;

    // The thumbprint of the receiver is replaced: the recorded one is that of the server it was sent to.
    private static byte[] ForThisServer(byte[] recorded)
    {
        byte[] open = [.. recorded];
        Assert.Equal(StatusCode.Good, AsymmetricHeader.TryRead(open, out AsymmetricHeader header));
        if (!header.ReceiverThumbprint.IsEmpty)
        {
            TestParties.Server.Thumbprint.CopyTo(open.AsSpan(header.ClearBytes - TestParties.Server.Thumbprint.Length));
        }

        return open;
    }

    // Mostly the size in the header is right again, since a wrong one is found at once.
    private static int Mutate(byte[] open, byte[] other, byte[] buffer, Random random)
    {
        int length = Mutation.Apply(open, other, random.Next(4) == 0 ? 0 : 8, buffer, random);
        if (random.Next(10) != 0 && length >= 8)
        {
            "OPNF"u8.CopyTo(buffer);
            BitConverter.TryWriteBytes(buffer.AsSpan(4), length);
        }

        return length;
    }
}
