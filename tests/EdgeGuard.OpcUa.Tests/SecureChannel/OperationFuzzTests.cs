using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Transport;

namespace EdgeGuard.OpcUa.Tests.SecureChannel;

/// <summary>Random sequences of operations of a client, honest and not: the server stays within its rules whatever the order.</summary>
public sealed class OperationFuzzTests
{
    [Theory]
    [InlineData("None", MessageSecurityMode.None, 3_000)]
    [InlineData("Basic256Sha256", MessageSecurityMode.SignAndEncrypt, 150)]
    public void Any_order_of_operations_ends_in_a_reason_or_goes_on(string policy, MessageSecurityMode mode, int sample)
    {
        int sequences = FuzzScale.Of(sample);
        int messages = 0;
        int closed = 0;
        for (int number = 0; number < sequences; number++)
        {
            var random = new Random(number);
            using var pair = new EnginePair(ChannelTests.Policy(policy), mode, new TransportLimits { ReceiveMessageBytesMax = 20_000, ReceiveChunkCountMax = 5 });
            for (int step = 0; step < 30 && pair.Server.State != ConnectionState.Closed; step++)
            {
                Exception? thrown = Record.Exception(() => Operate(pair, random, ref messages));
                Assert.True(thrown is null, $"sequence {number}, step {step}: {thrown}");
                Assert.InRange(pair.Server.Message.Length, 0, 20_000);
            }

            closed += pair.Server.State == ConnectionState.Closed ? 1 : 0;
            Assert.True(pair.Server.State != ConnectionState.Closed || pair.Server.CloseCause is not null, $"sequence {number} ended without a cause");
        }

        Assert.True(messages > sequences, $"only {messages} messages in {sequences} sequences");
        Assert.InRange(closed, sequences / 4, sequences - 1);
    }

    private static void Operate(EnginePair pair, Random random, ref int messages)
    {
        uint request = (uint)random.Next(1, 4);
        byte[] body = new byte[random.Next(4) == 0 ? random.Next(30_000) : random.Next(100)];
        switch (random.Next(60))
        {
            case < 20:
                pair.Client.Send(body, pair.Now, out _);
                break;
            case < 25:
                pair.Client.SendChunk(UaTcpMessageType.Message, ChunkKind.Intermediate, request, body.AsSpan(0, Math.Min(body.Length, 5000)), pair.Now);
                break;
            case < 28:
                pair.Client.SendAbort(request, StatusCode.BadTimeout, "given up", pair.Now);
                break;
            case < 32 when pair.Client.State == ConnectionState.Open:
                pair.Client.Renew(pair.Now);
                break;
            case < 36:
                pair.NowMs += random.Next(20_000);
                pair.Server.Tick(pair.Now);
                break;
            case 36:
                pair.Client.CloseChannel(pair.Now);
                break;
            case 37:
                byte[] garbage = new byte[random.Next(1, 60)];
                random.NextBytes(garbage);
                pair.Server.Step(garbage, pair.Now, out _);
                break;
            case < 45:
                pair.Server.Send(request, body.AsSpan(0, Math.Min(body.Length, 3000)), pair.Now);
                break;
            default:
                break;
        }

        Deliver(pair, ref messages);
    }

    private static void Deliver(EnginePair pair, ref int messages)
    {
        byte[] bytes = pair.TakeFromClient();
        int at = 0;
        for (bool more = true; more && pair.Server.State != ConnectionState.Closed;)
        {
            ConnectionStep step = pair.Server.Step(bytes.AsSpan(at), pair.Now, out int consumed);
            at += consumed;
            messages += step == ConnectionStep.Message ? 1 : 0;
            more = step is ConnectionStep.Message or ConnectionStep.Aborted;
        }

        byte[] answers = pair.TakeFromServer();
        int read = 0;
        while (pair.Client.Step(answers.AsSpan(read), pair.Now, out int taken) is ConnectionStep.Message or ConnectionStep.Aborted)
        {
            read += taken;
        }
    }
}
