using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Tests.Server;

namespace EdgeGuard.OpcUa.Tests.Corpus;

/// <summary>
/// Mutated requests of the corpus to a whole server, within a session of its own: whatever the body says, the answer is a
/// response or a fault and never a closed socket, the quotas hold, and an honest client is served at the end.
/// </summary>
public sealed class ServerFuzzTests
{
    private const int PerServer = 500;

    [Fact]
    public void Mutated_requests_to_a_live_server_are_answered_and_close_nothing()
    {
        CorpusFile[] corpus = [.. CorpusFolder.Requests.Where(static file => !file.Type.Contains("SecureChannel", StringComparison.Ordinal)), .. CorpusFolder.FoundRequests];
        int servers = FuzzScale.Of(4_000) / PerServer;
        (long faults, long served) = (0, 0);
        for (int server = 0; server < servers; server++)
        {
            Live(corpus, server * PerServer, ref faults, ref served);
        }

        FuzzScale.Tell((long)servers * PerServer, $"mutated requests to a live server ({served} served, {faults} faults)");
        Assert.True(served > servers * PerServer / 10, $"{served} were served");
        Assert.True(faults > servers * PerServer / 10, $"{faults} were faults");
    }

    private static void Live(CorpusFile[] corpus, int first, ref long faults, ref long served)
    {
        var limits = new ServerLimits { ItemsPerSessionMax = 20, QueuedValuesPerSessionMax = 100, PublishRequestsPerSessionMax = 4, RetransmissionsMax = 3 };
        using var bench = new ServerBench(ServerBench.Plain with { Limits = limits });
        bench.Trend.Set(Variant.FromArray(BuiltInType.Double, new double[] { 10, 20, 30 }), bench.Now.Utc);
        BenchClient client = bench.Activated();
        for (int number = first; number < first + PerServer; number++)
        {
            var random = new Random(number);
            CorpusFile file = corpus[random.Next(corpus.Length)];
            byte[] body = Mutate(file, corpus[random.Next(corpus.Length)], bench, client.Token, random);
            bool isOver;
            try
            {
                IServiceResponse? answer = client.AskRaw(body);
                Assert.True(answer is not null || IsPublish(body), "no answer");
                isOver = answer is CloseSessionResponse or ServiceFault { ResponseHeader.ServiceResult: StatusCode.BadSessionIdInvalid or StatusCode.BadSessionNotActivated };
                faults += answer is ServiceFault ? 1 : 0;
                served += answer is null or ServiceFault ? 0 : 1;
            }
            catch (Exception e)
            {
                throw new InvalidOperationException($"mutation {number} of {file.Name}: {e.Message}: {Convert.ToHexString(body)}", e);
            }

            Assert.False(client.Peer.IsClosed, $"mutation {number} of {file.Name} closed the socket: {client.Peer.CloseCause}");
            bench.Run(random.Next(3) * 50);
            if (isOver)
            {
                client.CreateSession();
                client.Activate();
            }

            Assert.InRange(bench.Server.SessionCount, 0, (int)bench.Server.Options.Operations.Sessions);
        }

        BenchClient honest = bench.Activated();
        Assert.Equal(StatusCode.Good, honest.Read(new NodeId(2, "N-1/state")).Status);
    }

    // The one request that is answered later.
    private static bool IsPublish(byte[] body) => ServiceMessage.TryReadRequest(body, UaLimits.Default, out IServiceRequest? request, out _) == StatusCode.Good && request is PublishRequest;

    // The session of the recording is another's: its token is replaced, and mostly it is what follows the header that is changed.
    private static byte[] Mutate(CorpusFile file, CorpusFile other, ServerBench bench, NodeId token, Random random)
    {
        byte[] body = file.Bytes;
        int from = random.Next(8) == 0 ? 0 : 4;
        if (ServiceMessage.TryReadRequest(body, UaLimits.Default, out IServiceRequest? request, out _) == StatusCode.Good)
        {
            request!.RequestHeader.AuthenticationToken = token;
            Aim.At(request, bench, random);
            int header = Wire.Bytes(request.RequestHeader.Write).Length;
            body = Wire.Bytes(w => ServiceMessage.Write(w, request));
            from = from == 0 ? 0 : Math.Min(body.Length - 1, 4 + header);
        }

        // Some stay as they are, aimed at what is there: the order alone is then the attack.
        int kind = random.Next(8);
        if (kind == 0)
        {
            return body;
        }

        if (kind < 5)
        {
            body = [.. body];
            Mutation.ApplyOne(body, from, random);
            return body;
        }

        byte[] target = new byte[body.Length + Mutation.RoomBytes];
        int length = Mutation.Apply(body, other.Bytes, from, target, random);
        return target[..length];
    }
}
