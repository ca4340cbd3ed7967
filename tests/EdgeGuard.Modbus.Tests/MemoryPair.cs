using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Tests.Client;

namespace EdgeGuard.Modbus.Tests;

/// <summary>A client engine and a server engine back to back, no socket between.</summary>
internal sealed class MemoryPair
{
    private readonly ServerEngine _server;
    private readonly ClientFeed _feed;

    public MemoryPair(IModbusDevice device)
    {
        _server = new ServerEngine(new Dictionary<byte, IModbusDevice> { [1] = device });
        _feed = new ClientFeed(Client);
    }

    public ClientEngine Client { get; } = new();

    /// <summary>Carries the open request over and the answer back, both cut into pieces.</summary>
    public ModbusResult Exchange(Span<ushort> words, int cut)
    {
        byte[] request = Client.Request.ToArray();
        byte[] answer = [];
        for (int have = Math.Min(cut, request.Length); answer.Length == 0; have = Math.Min(have + cut, request.Length))
        {
            answer = Serve(request.AsSpan(0, have));
        }

        ClientStatus status = ClientStatus.NeedMore;
        foreach (byte[] piece in answer.Chunk(cut))
        {
            status = _feed.Give(piece, words);
        }

        Assert.Equal(ClientStatus.Completed, status);
        return Client.Result;
    }

    public byte[] Serve(ReadOnlySpan<byte> request)
    {
        byte[] output = new byte[260];
        ServerStatus status = _server.Process(request, output, out int consumed, out int produced);
        Assert.Equal(status == ServerStatus.NeedMore ? 0 : request.Length, consumed);
        return output[..produced];
    }
}
