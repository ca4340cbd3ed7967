using System.Collections.Concurrent;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Tests.Requests;

/// <summary>A request server with a scan that decides, in a folder of its own.</summary>
internal sealed class RequestDoor : IRequestJournal, IStatusSource, IDisposable
{
    /// <summary>For what comes by itself, however busy the machine is.</summary>
    public const int PatienceMs = 30_000;

    private readonly RequestServer _server;
    private readonly Thread _scan;
    private readonly OperatorRequest[] _requests = new OperatorRequest[2];
    private volatile bool _stop;

    public RequestDoor(int receiveLimitMs = PatienceMs, int decisionLimitMs = PatienceMs, Action<Thread, Socket>? startThread = null)
    {
        Folder = Directory.CreateTempSubdirectory("edgeguard").FullName;
        Desk = new RequestDesk(2, this);
        _server = new RequestServer(
            new RequestServerOptions { SocketPath = RequestClient.SocketPath(Folder), Units = ["N-1", "A-1"], ReceiveLimitMs = receiveLimitMs, DecisionLimitMs = decisionLimitMs },
            Desk,
            this,
            this)
        {
            StartThread = startThread ?? (static (thread, client) => thread.Start(client)),
        };
        _server.Start();
        _scan = new Thread(Scan) { IsBackground = true };
        _scan.Start();
    }

    public string Folder { get; }

    public RequestDesk Desk { get; }

    public ConcurrentQueue<string> Journal { get; } = new();

    public Func<int, OperatorRequest, GuardEvent> Decide { get; set; } = static (unit, request) => new GuardEvent { Unit = unit, Id = EventId.RequestAccepted, Detail = request.Id, Scan = 9 };

    public Exception? StatusFault { get; set; }

    public volatile bool Deaf;

    public volatile bool JournalFull;

    public bool Received(RequestOrder order, long id)
    {
        if (JournalFull)
        {
            return false;
        }

        Journal.Enqueue($"received {id} {order.Kind} {order.UnitName} by {order.Person}: {order.Reason}");
        return true;
    }

    public void Rejected(string person, string why) => Journal.Enqueue("rejected " + why);

    public SiteStatus Status() => StatusFault is { } fault ? throw fault : Whole();

    private static SiteStatus Whole() => new()
    {
        Site = "hall",
        Version = "1",
        ProcessId = 1,
        Scan = 5,
        UtcUnixMs = 0,
        ScanMs = 100,
        Journal = new JournalStatus("Healthy", 1, 0, "", null, null),
        Loop = new LoopStatus(1, 0, 0, 0, 0, 0, 0, 0, null, 0),
        Links = [],
        Units = [],
    };

    public RequestAnswer Ask(string kind, string unit = "N-1", string reason = "filter changed", string? person = null) =>
        Ask(new RequestMessage { Kind = kind, Unit = unit, Reason = reason, Person = person });

    public RequestAnswer Ask(RequestMessage message) => Parse(RequestClient.Exchange(Folder, message, PatienceMs));

    public Socket Connect()
    {
        var socket = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified) { ReceiveTimeout = PatienceMs, SendTimeout = PatienceMs };
        socket.Connect(new UnixDomainSocketEndPoint(RequestClient.SocketPath(Folder)));
        return socket;
    }

    /// <summary>Sends raw bytes and reads until the server closes; empty when it just closed.</summary>
    public string Raw(ReadOnlySpan<byte> bytes)
    {
        using Socket socket = Connect();
        try
        {
            socket.Send(bytes);
            socket.Shutdown(SocketShutdown.Send);
        }
        catch (SocketException)
        {
            // The server may have answered and closed before everything was sent.
        }

        return Read(socket);
    }

    public static string Read(Socket socket)
    {
        var text = new StringBuilder();
        var buffer = new byte[4096];
        try
        {
            for (int n; (n = socket.Receive(buffer)) > 0;)
            {
                text.Append(Encoding.UTF8.GetString(buffer, 0, n));
            }
        }
        catch (SocketException e) when (e.SocketErrorCode == SocketError.ConnectionReset)
        {
            // Closed with bytes of ours unread: the answer before it counts.
        }

        return text.ToString();
    }

    public static RequestAnswer Parse(byte[] line) => JsonSerializer.Deserialize(line, RequestJson.Default.RequestAnswer)!;

    public void Close() => _server.Dispose();

    public void Dispose()
    {
        _stop = true;
        _scan.Join();
        _server.Dispose();
        Desk.Dispose();
        if (Directory.Exists(Folder))
        {
            Directory.Delete(Folder, recursive: true);
        }
    }

    private void Scan()
    {
        while (!_stop)
        {
            if (!Deaf)
            {
                Desk.Take(_requests);
                for (int unit = 0; unit < _requests.Length; unit++)
                {
                    if (_requests[unit].Kind != RequestKind.None)
                    {
                        Desk.Decided(Decide(unit, _requests[unit]));
                    }
                }
            }

            Thread.Sleep(2);
        }
    }
}
