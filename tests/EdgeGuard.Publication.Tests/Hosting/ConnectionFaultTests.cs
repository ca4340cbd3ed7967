using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.Publication.Hosting;

namespace EdgeGuard.Publication.Tests.Hosting;

/// <summary>What goes wrong within one connection ends that connection with a word in the log, and neither the tick of the server nor the publisher.</summary>
public sealed class ConnectionFaultTests : IDisposable
{
    private const string SenderName = "connection sender";
    private const int WaitMs = 60_000;
    private readonly UaServer _server;
    private readonly Socket _client = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { ReceiveTimeout = WaitMs };
    private readonly UaServerPeer _peer;
    private readonly Socket _served;
    private readonly KeptLog _log = new();

    public ConnectionFaultTests()
    {
        var space = new NodeSpace(HostClock.Now.Utc);
        StandardNodes.Load(space);
        _server = new UaServer(new UaServerOptions { ApplicationUri = "urn:test", ApplicationName = "test", EndpointUrl = "opc.tcp://localhost", AllowNoneSessions = true }, space);
        using var listener = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        listener.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        listener.Listen(1);
        _client.Connect(listener.LocalEndPoint!);
        _served = listener.Accept();
        _peer = _server.Accept("127.0.0.1:1", "127.0.0.1", HostClock.Now)!;
    }

    public void Dispose()
    {
        _client.Dispose();
        _server.Dispose();
        _log.Dispose();
    }

    [Fact]
    public void A_fault_of_ours_while_sending_ends_the_connection_and_is_told_with_its_cause()
    {
        new FaultyLoop(_served, _peer, _log) { SendFault = new InvalidOperationException("the test broke it") }.Start();
        TickLate();
        Assert.True(_log.TryTake(out string? sentence));
        Assert.Contains("internal fault while sending", sentence, StringComparison.Ordinal);
        Assert.Contains("the test broke it", sentence, StringComparison.Ordinal);
        Assert.Equal(0, _client.Receive(new byte[1]));
    }

    [Fact]
    public void A_shortage_of_threads_ends_the_connection_and_not_the_tick_that_had_something_to_send()
    {
        new FaultyLoop(_served, _peer, _log) { StartFault = new InsufficientMemoryException("no thread for the test") }.Start();
        TickLate();
        Assert.True(_log.TryTake(out string? sentence));
        Assert.Contains("the system gives no more threads: no thread for the test", sentence, StringComparison.Ordinal);
        Assert.Equal(0, _client.Receive(new byte[1]));
    }

    // Long after the time in which a session must be made: the server has to tell the client why it is cut off.
    private void TickLate()
    {
        ChannelClock now = HostClock.Now;
        _server.Tick(new ChannelClock(now.MonotonicMs + 600_000, now.Utc));
    }

    private sealed class FaultyLoop(Socket socket, UaServerPeer peer, IServerLog log) : ConnectionLoop(socket, peer, log)
    {
        public Exception? SendFault { get; init; }

        public Exception? StartFault { get; init; }

        protected override void StartThread(ThreadStart run, string name)
        {
            if (StartFault is not null && string.Equals(name, SenderName, StringComparison.Ordinal))
            {
                throw StartFault;
            }

            base.StartThread(run, name);
        }

        protected override int SendSome(ReadOnlySpan<byte> bytes) =>
            SendFault is not null && string.Equals(Thread.CurrentThread.Name, SenderName, StringComparison.Ordinal) ? throw SendFault : base.SendSome(bytes);
    }

    private sealed class KeptLog : IServerLog, IDisposable
    {
        private readonly BlockingCollection<string> _refused = [];

        public bool TryTake(out string? sentence) => _refused.TryTake(out sentence, WaitMs);

        public void Note(string sentence)
        {
        }

        public void Refused(string sentence) => _refused.Add(sentence);

        public void Dispose() => _refused.Dispose();
    }
}
