using System.Buffers.Binary;
using System.Diagnostics;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.Publication.Hosting;

namespace EdgeGuard.Benchmarks;

/// <summary>
/// Reads of 100 Doubles over one connection, so many requests on their way at once. The request is encoded once; only its
/// handle and time are set for each. Every answer is judged by its type, handle, result and count; the first and the last
/// of each turn are decoded whole.
/// </summary>
internal sealed class ReadLoad : IDisposable
{
    public const int Variables = 100;
    private const int TypeBytes = 4;
    private const int HandleAt = TypeBytes + sizeof(long);
    private const int ResultAt = HandleAt + sizeof(uint);

    // Behind the result: no diagnostics (1 byte), no strings (4), no extension (3).
    private const int CountAt = ResultAt + sizeof(uint) + 8;

    private readonly LoadTarget _target;
    private readonly LoadClient _client;
    private readonly byte[] _body;
    private readonly int _timeAt;
    private uint _sent;
    private uint _answered;

    public ReadLoad(LoadTarget target, OpcUa.SecureChannel.ApplicationInstance? own)
    {
        _target = target;
        _client = new LoadClient(target, own);
        _client.OpenSession();
        (_body, _timeAt) = Encode();
    }

    /// <summary>Reads for so long; returns the number of answers and the time it took.</summary>
    public (long Reads, double Seconds) Run(double seconds, int onTheirWay)
    {
        long start = Stopwatch.GetTimestamp();
        long end = start + (long)(seconds * Stopwatch.Frequency);
        for (int i = 0; i < onTheirWay; i++)
        {
            Send();
        }

        long reads = 1;
        Judge(_client.Receive(), whole: true);
        while (Stopwatch.GetTimestamp() < end)
        {
            Send();
            Judge(_client.Receive(), whole: false);
            reads++;
        }

        while (_answered != _sent)
        {
            Judge(_client.Receive(), whole: true);
            reads++;
        }

        return (reads, Stopwatch.GetElapsedTime(start).TotalSeconds);
    }

    public void Dispose() => _client.Dispose();

    private (byte[] Body, int TimeAt) Encode()
    {
        var ids = new ReadValueId[Variables];
        for (int i = 0; i < ids.Length; i++)
        {
            ids[i] = new ReadValueId { NodeId = BenchIds.Of(_target.NamespaceIndex, i), AttributeId = (uint)AttributeId.Value };
        }

        using var writer = new UaWriter();
        writer.WriteNodeId(new NodeId(ReadRequest.BinaryId));
        writer.WriteNodeId(_client.Token);
        int timeAt = writer.Length;
        writer.Clear();
        ServiceMessage.Write(writer, new ReadRequest { RequestHeader = new RequestHeader { AuthenticationToken = _client.Token }, TimestampsToReturn = TimestampsToReturn.Both, NodesToRead = ids });
        return (writer.Written.ToArray(), timeAt);
    }

    private void Send()
    {
        BinaryPrimitives.WriteInt64LittleEndian(_body.AsSpan(_timeAt), HostClock.Now.Utc.Ticks);
        BinaryPrimitives.WriteUInt32LittleEndian(_body.AsSpan(_timeAt + sizeof(long)), ++_sent);
        _client.Send(_body);
    }

    private void Judge(ReadOnlySpan<byte> body, bool whole)
    {
        _answered++;
        bool good = body.Length > CountAt + sizeof(int)
            && BinaryPrimitives.ReadUInt16LittleEndian(body[2..]) == ReadResponse.BinaryId
            && BinaryPrimitives.ReadUInt32LittleEndian(body[HandleAt..]) == _answered
            && BinaryPrimitives.ReadUInt32LittleEndian(body[ResultAt..]) == 0
            && BinaryPrimitives.ReadInt32LittleEndian(body[CountAt..]) == Variables;
        if (!good || (whole && !AllGood(body)))
        {
            throw new InvalidOperationException($"{_target.Name}: answer {_answered} is not one of {Variables} good Doubles");
        }
    }

    private static bool AllGood(ReadOnlySpan<byte> body)
    {
        bool decoded = ServiceMessage.TryReadResponse(body, UaLimits.Default, out IServiceResponse? response) == StatusCode.Good;
        return decoded && response is ReadResponse { Results: { Length: Variables } results } && results.All(static value => value.Status == StatusCode.Good && value.Value.Type == BuiltInType.Double);
    }
}
