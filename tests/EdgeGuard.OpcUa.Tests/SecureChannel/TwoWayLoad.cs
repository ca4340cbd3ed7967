using System.Buffers.Binary;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.SecureChannel;

/// <summary>
/// Numbered messages both ways between the engines of a pair, their bytes held back and let through in pieces. Each
/// message carries its number and a length; the receiver checks that it is the next one.
/// </summary>
/// <param name="pair">The engines.</param>
/// <param name="random">Decides what is sent and how much arrives.</param>
/// <param name="largestBytes">Largest message.</param>
internal sealed class TwoWayLoad(EnginePair pair, Random random, int largestBytes)
{
    private readonly List<byte> _toServer = [];
    private readonly List<byte> _toClient = [];
    private readonly Queue<uint> _unanswered = new();
    private byte[] _serverHas = [];
    private byte[] _clientHas = [];
    private uint _tokenBefore;
    private int _firstUnderNew;
    private int _answered;

    public int Requests { get; private set; }

    public int RequestsTaken { get; private set; }

    public int AnswersTaken { get; private set; }

    /// <summary>Messages sent and not arrived when a renewal was sent, over all renewals.</summary>
    public int OnTheirWayAtRenewal { get; private set; }

    /// <summary>Whether the last renewal is over on both sides: a request under the new token has arrived.</summary>
    public bool IsRenewed => pair.Client.TokenId != _tokenBefore && RequestsTaken > _firstUnderNew;

    public void Renew()
    {
        OnTheirWayAtRenewal += Requests - RequestsTaken + (_answered - AnswersTaken);
        (_tokenBefore, _firstUnderNew) = (pair.Client.TokenId, int.MaxValue);
        pair.Client.Renew(pair.Now);
    }

    public void Step()
    {
        switch (random.Next(5))
        {
            case 0 or 1:
                pair.Client.Send(Numbered(Requests++), pair.Now, out _);
                break;
            case 2 when _unanswered.TryDequeue(out uint request):
                pair.Server.Send(request, Numbered(_answered++), pair.Now);
                break;
            case 3:
                ToServer(random.Next(60_000));
                break;
            default:
                ToClient(random.Next(60_000));
                break;
        }
    }

    /// <summary>Answers everything and lets it arrive.</summary>
    public void Drain()
    {
        do
        {
            ToServer(int.MaxValue);
            while (_unanswered.TryDequeue(out uint request))
            {
                pair.Server.Send(request, Numbered(_answered++), pair.Now);
            }

            ToClient(int.MaxValue);
        }
        while (_toServer.Count + _toClient.Count + pair.Client.Output.Length > 0);
    }

    private byte[] Numbered(int number)
    {
        byte[] body = new byte[4 + (random.Next(8) == 0 ? random.Next(largestBytes) : random.Next(200))];
        BinaryPrimitives.WriteInt32LittleEndian(body, number);
        return body;
    }

    private void ToServer(int bytes)
    {
        _toServer.AddRange(pair.TakeFromClient());
        _serverHas = Deliver(pair.Server, _toServer, _serverHas, bytes, body =>
        {
            Assert.Equal(RequestsTaken++, BinaryPrimitives.ReadInt32LittleEndian(body));
            _unanswered.Enqueue(pair.Server.RequestId);
        });
    }

    private void ToClient(int bytes)
    {
        _toClient.AddRange(pair.TakeFromServer());
        _clientHas = Deliver(pair.Client, _toClient, _clientHas, bytes, body => Assert.Equal(AnswersTaken++, BinaryPrimitives.ReadInt32LittleEndian(body)));
        _firstUnderNew = pair.Client.TokenId != _tokenBefore ? Math.Min(_firstUnderNew, Requests) : _firstUnderNew;
    }

    // Returns the bytes that are no whole chunk yet.
    private byte[] Deliver(ChannelConnection side, List<byte> line, byte[] rest, int bytes, Action<byte[]> take)
    {
        int count = Math.Min(bytes, line.Count);
        byte[] received = [.. rest, .. line.Take(count)];
        line.RemoveRange(0, count);
        int at = 0;
        while (true)
        {
            ConnectionStep step = side.Step(received.AsSpan(at), pair.Now, out int consumed);
            at += consumed;
            if (step != ConnectionStep.Message)
            {
                return received[at..];
            }

            take(side.Message.ToArray());
        }
    }
}
