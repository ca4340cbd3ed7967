using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Transport;

namespace EdgeGuard.OpcUa.Tests.SecureChannel;

/// <summary>A client and a server engine back to back in memory, with a clock that only moves on demand.</summary>
internal sealed class EnginePair : IDisposable
{
    public EnginePair(SecurityPolicy policy, MessageSecurityMode mode, TransportLimits? serverLimits = null, TransportLimits? clientLimits = null, ApplicationInstance? server = null, ApplicationInstance? client = null, uint lifetimeMs = 60_000, ICertificateJudge? judge = null)
    {
        ApplicationInstance serverInstance = server ?? TestParties.Server;
        ApplicationInstance clientInstance = client ?? TestParties.Client;
        ServerOptions = new ServerChannelOptions
        {
            Instance = serverInstance,
            Judge = judge ?? new ListJudge(clientInstance),
            Policies = SecurityPolicy.All,
            Limits = serverLimits ?? new TransportLimits(),
        };
        Server = new ServerConnection(ServerOptions, new ChannelIds(40), Now);
        Client = new ClientConnection(
            new ClientChannelOptions
            {
                EndpointUrl = "opc.tcp://pilot-hall:4840",
                Instance = clientInstance,
                ServerCertificate = serverInstance.Der,
                Policy = policy,
                Mode = mode,
                Limits = clientLimits ?? new TransportLimits(),
                TokenLifetimeMs = lifetimeMs,
            },
            Now);
    }

    public ServerChannelOptions ServerOptions { get; }

    public ServerConnection Server { get; }

    public ClientConnection Client { get; }

    public long NowMs { get; set; } = 1_000;

    public ChannelClock Now => new(NowMs, UaDateTime.FromUnixMs(1_772_000_000_000 + NowMs));

    public static EnginePair Opened(SecurityPolicy policy, MessageSecurityMode mode, TransportLimits? serverLimits = null, TransportLimits? clientLimits = null, uint lifetimeMs = 60_000)
    {
        var pair = new EnginePair(policy, mode, serverLimits, clientLimits, lifetimeMs: lifetimeMs);
        pair.Pump();
        Assert.Equal((ConnectionState.Open, ConnectionState.Open), (pair.Client.State, pair.Server.State));
        return pair;
    }

    /// <summary>Moves bytes both ways until none are left; stops at the first message or end of the side that received.</summary>
    public void Pump()
    {
        for (bool moved = true; moved;)
        {
            moved = ToServer() != ConnectionStep.Closed && ToClient() != ConnectionStep.Closed && Client.Output.Length + Server.Output.Length > 0;
        }
    }

    public byte[] TakeFromClient()
    {
        byte[] bytes = Client.Output.ToArray();
        Client.ClearOutput();
        return bytes;
    }

    public byte[] TakeFromServer()
    {
        byte[] bytes = Server.Output.ToArray();
        Server.ClearOutput();
        return bytes;
    }

    public ConnectionStep ToServer() => Server.Step(TakeFromClient(), Now, out _);

    public ConnectionStep ToClient() => Client.Step(TakeFromServer(), Now, out _);

    /// <summary>One request and one answer, both whole.</summary>
    public void Exchange(byte[] request, byte[] answer)
    {
        Assert.Equal(StatusCode.Good, Client.Send(request, Now, out uint id));
        Assert.Equal(ConnectionStep.Message, ToServer());
        Assert.Equal(id, Server.RequestId);
        Assert.Equal(request, Server.Message.ToArray());
        Assert.Equal(StatusCode.Good, Server.Send(id, answer, Now));
        Assert.Equal(ConnectionStep.Message, ToClient());
        Assert.Equal(id, Client.RequestId);
        Assert.Equal(answer, Client.Message.ToArray());
    }

    public void Dispose()
    {
        Server.Dispose();
        Client.Dispose();
    }
}
