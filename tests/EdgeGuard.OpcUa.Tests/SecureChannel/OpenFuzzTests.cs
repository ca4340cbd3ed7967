using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.SecureChannel;

/// <summary>
/// Mutations of a valid OpenSecureChannel, a family of inputs known to have brought servers down: the engine ends the
/// connection or goes on, throws nothing, and spends bounded memory. Each failure prints the number of its mutation; the
/// generator depends on nothing but that number.
/// </summary>
public sealed class OpenFuzzTests
{
    private const long AllocatedBytesMax = 400_000;

    [Fact]
    public void One_hundred_thousand_mutated_plain_OpenSecureChannel_requests()
    {
        (byte[] hello, byte[] open) = Recorded(SecurityPolicy.None, MessageSecurityMode.None);
        int count = FuzzScale.Of(100_000);
        (int ended, int opened) = Fuzz("plain", hello, open, count);

        // Both must happen, or the mutations test nothing: most break the message, some only change a value in it.
        Assert.InRange(opened, count / 100, count / 10 * 6);
        Assert.InRange(ended, count / 10, count / 100 * 99);
    }

    [Theory]
    [InlineData("Basic256Sha256")]
    [InlineData("Aes256_Sha256_RsaPss")]
    public void Mutated_secured_OpenSecureChannel_requests_never_open_a_channel(string policy)
    {
        (byte[] hello, byte[] open) = Recorded(ChannelTests.Policy(policy), MessageSecurityMode.SignAndEncrypt);
        (int ended, int opened) = Fuzz(policy, hello, open, FuzzScale.Of(3_000));
        Assert.Equal(0, opened);
        Assert.True(ended > FuzzScale.Of(1_500));
    }

    private static (byte[] Hello, byte[] Open) Recorded(SecurityPolicy policy, MessageSecurityMode mode)
    {
        using var pair = new EnginePair(policy, mode);
        byte[] hello = pair.TakeFromClient();
        pair.Server.Step(hello, pair.Now, out _);
        pair.ToClient();
        return (hello, pair.TakeFromClient());
    }

    private static (int Ended, int Opened) Fuzz(string family, byte[] hello, byte[] open, int count)
    {
        using var pair = new EnginePair(SecurityPolicy.None, MessageSecurityMode.None);
        var ids = new ChannelIds();
        byte[] buffer = new byte[open.Length + 64];
        int ended = 0;
        int opened = 0;
        long inputs = 0;
        for (int number = 0; number < count; number++)
        {
            var random = new Random(number);
            int length = Mutate(open, buffer, random);
            if (buffer.AsSpan(0, length).SequenceEqual(open))
            {
                continue;
            }

            inputs++;
            long before = GC.GetAllocatedBytesForCurrentThread();
            using var server = new ServerConnection(pair.ServerOptions, ids, pair.Now);
            server.Step(hello.AsSpan(), pair.Now, out _);
            Exception? thrown = Record.Exception(() => server.Step(buffer.AsSpan(0, length), pair.Now, out _));
            Assert.True(thrown is null, $"mutation {number}: {thrown}");
            long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
            Assert.True(allocated < AllocatedBytesMax, $"mutation {number} allocated {allocated} bytes");
            Assert.True(server.State != ConnectionState.Closed || server.CloseCause is not null, $"mutation {number} ended without a cause");
            ended += server.State == ConnectionState.Closed ? 1 : 0;
            opened += server.State == ConnectionState.Open ? 1 : 0;
        }

        FuzzScale.Tell(inputs, "mutated OpenSecureChannel, " + family);
        return (ended, opened);
    }

    // One to four changes: a bit, a byte at an edge, a length gone wild, bytes cut out or put in; the size field mostly repaired.
    private static int Mutate(byte[] valid, byte[] target, Random random)
    {
        valid.CopyTo(target, 0);
        int length = valid.Length;
        for (int changes = random.Next(1, 5); changes > 0; changes--)
        {
            int at = random.Next(length);
            switch (random.Next(6))
            {
                case 0:
                    target[at] ^= (byte)(1 << random.Next(8));
                    break;
                case 1:
                    target[at] = (byte)(random.Next(3) switch { 0 => 0, 1 => 0xFF, _ => 0x80 });
                    break;
                case 2 when at + 4 <= length:
                    BitConverter.TryWriteBytes(target.AsSpan(at), random.Next(4) switch { 0 => int.MaxValue, 1 => -1, 2 => int.MinValue, _ => length });
                    break;
                case 3 when length > 30:
                    int cut = Math.Min(random.Next(1, 20), length - at);
                    target.AsSpan(at + cut, length - at - cut).CopyTo(target.AsSpan(at));
                    length -= cut;
                    break;
                case 4 when length + 16 <= target.Length:
                    target.AsSpan(at, length - at).CopyTo(target.AsSpan(at + 16));
                    length += 16;
                    break;
                default:
                    random.NextBytes(target.AsSpan(at, Math.Min(4, length - at)));
                    break;
            }
        }

        if (random.Next(10) != 0 && length >= 8)
        {
            "OPNF"u8.CopyTo(target);
            BitConverter.TryWriteBytes(target.AsSpan(4), length);
        }

        return length;
    }
}
