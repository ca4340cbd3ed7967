namespace EdgeGuard.OpcUa.Tests.Corpus;

/// <summary>
/// Mutations of the corpus to the decoders of messages and values: what an independent stack wrote, a little wrong. None
/// throws, and memory stays in proportion to the bytes that arrived. A failure names its number, which is enough to have it again.
/// </summary>
public sealed class CorpusFuzzTests
{
    // The dearest bytes: one octet of a DataValue array becomes an element of the array.
    private const int AllocatedPerByteMax = 200;
    private const int AllocatedBytesMax = 100_000;

    [Fact]
    public void Mutated_requests_of_the_corpus_never_throw_and_cost_memory_in_proportion() => Fuzz("requests", CorpusFolder.Requests, static _ => "Request", FuzzScale.Of(20_000));

    [Fact]
    public void Mutated_responses_of_the_corpus_never_throw_and_cost_memory_in_proportion() => Fuzz("responses", CorpusFolder.Responses, static _ => "Response", FuzzScale.Of(20_000));

    [Fact]
    public void Mutated_values_of_the_corpus_never_throw_and_cost_memory_in_proportion() => Fuzz("values", CorpusFolder.Values, static file => file.Type, FuzzScale.Of(20_000));

    private static void Fuzz(string family, IReadOnlyList<CorpusFile> corpus, Func<CorpusFile, string> type, int inputs)
    {
        byte[] buffer = new byte[corpus.Max(static file => file.Bytes.Length) + Mutation.RoomBytes];
        var kinds = new Dictionary<StatusCode, int>();
        for (int number = 0; number < inputs; number++)
        {
            var random = new Random(number);
            CorpusFile file = corpus[random.Next(corpus.Count)];
            int length = Mutation.Apply(file.Bytes, corpus[random.Next(corpus.Count)].Bytes, 0, buffer, random);
            StatusCode status = Read(type(file), buffer.AsSpan(0, length), $"{family}, mutation {number} of {file.Name}");
            kinds[status] = kinds.GetValueOrDefault(status) + 1;
        }

        FuzzScale.Tell(inputs, "mutated corpus, " + family);

        // All must happen, or the mutations test nothing.
        Assert.True(kinds.GetValueOrDefault(StatusCode.Good) > inputs / 100, $"{kinds.GetValueOrDefault(StatusCode.Good)} of {inputs} were still valid");
        Assert.True(kinds.GetValueOrDefault(StatusCode.BadDecodingError) > inputs / 10, $"{kinds.GetValueOrDefault(StatusCode.BadDecodingError)} of {inputs} were malformed");
    }

    private static StatusCode Read(string type, ReadOnlySpan<byte> bytes, string name)
    {
        long before = GC.GetAllocatedBytesForCurrentThread();
        StatusCode status;
        try
        {
            status = ValueReader.Read(type, bytes, UaLimits.Default);
        }
        catch (Exception e)
        {
            throw new InvalidOperationException($"{name}: {e.Message}: {Convert.ToHexString(bytes)}", e);
        }

        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.True(allocated < AllocatedBytesMax + (AllocatedPerByteMax * (long)bytes.Length), $"{name} allocated {allocated} bytes for {bytes.Length}: {Convert.ToHexString(bytes)}");
        return status;
    }
}
