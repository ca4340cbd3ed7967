using System.Net.Sockets;
using System.Text.Json;

namespace EdgeGuard.Service.Requests;

/// <summary>
/// The local door for people: a Unix domain socket that only the guard's user, root and one group can open, one line
/// in, one line out. Clients are few, lines short and times limited, so that nothing on this socket can grow; what
/// comes in is journalled with the identity the kernel gives, whatever name the request itself carries. Threads of
/// clients live as long as their one request and never touch the scan.
/// </summary>
public sealed class RequestServer : IDisposable
{
    private readonly RequestServerOptions _options;
    private readonly RequestDesk _desk;
    private readonly IRequestJournal _journal;
    private readonly IStatusSource _status;
    private readonly PeerCheck _check;
    private readonly NoteGate _notes = new();
    private readonly NoteGate _rejections = new();
    private readonly Socket _socket;
    private readonly Thread _thread;
    private int _clients;
    private int _stopped;

    /// <summary>Binds the socket; an old socket file is replaced, so the caller must hold the lock of the data folder.</summary>
    /// <exception cref="SocketException">The path cannot be bound.</exception>
    /// <exception cref="ArgumentException">The path is too long for a socket.</exception>
    public RequestServer(RequestServerOptions options, RequestDesk desk, IRequestJournal journal, IStatusSource status)
    {
        ArgumentNullException.ThrowIfNull(options);
        _options = options;
        _desk = desk;
        _journal = journal;
        _status = status;
        _check = new PeerCheck(options.Group);
        RequestSocketFile.CheckLength(options.SocketPath);
        File.Delete(options.SocketPath);
        _socket = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
        try
        {
            _socket.Bind(new UnixDomainSocketEndPoint(options.SocketPath));
            RequestSocketFile.Protect(options.SocketPath, options.Group);
            _socket.Listen(RequestLimits.ClientsMax);
        }
        catch
        {
            _socket.Dispose();
            throw;
        }

        LoadWhatRequestsNeed();
        _thread = new Thread(AcceptLoop) { IsBackground = true, Name = "requests" };
    }

    /// <summary>How the thread of a client is started; a test lets it fail.</summary>
    internal Action<Thread, Socket> StartThread { get; init; } = static (thread, client) => thread.Start(client);

    /// <summary>Starts to accept.</summary>
    public void Start() => _thread.Start();

    /// <summary>Stops accepting and removes the socket file, where that can be done: a folder that is gone or a disk that is read only must not keep the guard from ending in order.</summary>
    public void Dispose()
    {
        if (Interlocked.Exchange(ref _stopped, 1) == 0)
        {
            // Shutting down ends a blocked Accept; closing alone does not on every system.
            TryShutdown(_socket);
            _socket.Dispose();
            TryDelete(_options.SocketPath);
        }
    }

    private static void TryDelete(string path)
    {
        try
        {
            File.Delete(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The next start replaces it.
        }
    }

    // What the first request would load is loaded now: at the limit of descriptors that fails, and a type that could not be
    // initialised stays so for the whole run, and with it the door.
    private static void LoadWhatRequestsNeed()
    {
        _ = RequestReader.TryParse("{}"u8, out _, out _);
        _ = Answer("accepted", "start");
        _ = RequestJson.Default.SiteStatus.Properties.Count;
    }

    private void AcceptLoop()
    {
        while (Volatile.Read(ref _stopped) == 0)
        {
            try
            {
                Dispatch(_socket.Accept());
            }
            catch (Exception)
            {
                // Out of file descriptors or the like: wait, so that a fault that stays does not become a busy loop.
                // Whatever it is, a fault of this door must not end the guard.
                Thread.Sleep(100);
            }
        }
    }

    private void Dispatch(Socket client)
    {
        if (Interlocked.Increment(ref _clients) > RequestLimits.ClientsMax)
        {
            Interlocked.Decrement(ref _clients);
            using (client)
            {
                TrySend(client, Answer("busy", $"{RequestLimits.ClientsMax} requests are being served; try again"));
            }

            return;
        }

        try
        {
            StartThread(new Thread(ServeClient) { IsBackground = true, Name = "request" }, client);
        }
        catch (Exception e)
        {
            // The system gives no further thread, which the runtime reports as out of memory.
            Interlocked.Decrement(ref _clients);
            using (client)
            {
                TrySend(client, Fault("unknown", e));
            }
        }
    }

    private void ServeClient(object? state)
    {
        try
        {
            using var client = (Socket)state!;
            TrySend(client, ServeOrSayWhyNot(client));
            TryShutdown(client);
        }
        catch (Exception)
        {
            // The client is gone; what it asked for is decided and journalled without it. Anything else that escapes
            // here would end the process, and one request is not worth the guard.
        }
        finally
        {
            Interlocked.Decrement(ref _clients);
        }
    }

    private byte[] ServeOrSayWhyNot(Socket client)
    {
        PeerIdentity? peer = null;
        try
        {
            peer = PeerCheck.Identify(client);
            return Serve(client, peer);
        }
        catch (Exception e) when (e is not (SocketException or ObjectDisposedException))
        {
            return Fault(peer?.ToString() ?? "unknown", e);
        }
    }

    private byte[] Fault(string person, Exception fault)
    {
        Reject(person, "fault of the program: " + fault.Message);
        return Answer("unavailable", "the guard could not serve the request, which was a fault of the program; the journal says which");
    }

    // Anybody may be refused as often as they please; the journal must not grow with that.
    private void Reject(string person, string why)
    {
        if (_rejections.TryPass(Environment.TickCount64, out long leftOut))
        {
            _journal.Rejected(person, WithLeftOut(why, leftOut));
        }
    }

    private static string WithLeftOut(string text, long leftOut) => leftOut == 0 ? text : $"{text} ({leftOut} further left out before)";

    private byte[] Serve(Socket client, PeerIdentity? peer)
    {
        if (!_check.MayAsk(peer))
        {
            Reject(peer?.ToString() ?? "unknown", "this user may not ask");
            return Answer("denied", "this user may not ask: only the user the guard runs as, root, and members of the configured group may");
        }

        Span<byte> buffer = stackalloc byte[RequestLimits.LineBytesMax];
        int length = LineReceiver.Receive(client, buffer, _options.ReceiveLimitMs, out string fault);
        if (length < 0)
        {
            return Answer("invalid", fault);
        }

        if (!RequestReader.TryParse(buffer[..length], out RequestMessage? message, out fault))
        {
            return Answer("invalid", fault);
        }

        if (message!.Kind == RequestReader.Noted)
        {
            return Note(message, peer!);
        }

        return message.Kind == RequestReader.Status
            ? Line(JsonSerializer.SerializeToUtf8Bytes(_status.Status(), RequestJson.Default.SiteStatus))
            : Ask(message, peer!);
    }

    // The core is not asked: somebody was refused before it could be.
    private byte[] Note(RequestMessage message, PeerIdentity peer)
    {
        if (!RequestReader.TryCheckNote(message, peer.ToString(), out string person, out string fault))
        {
            return Answer("invalid", fault);
        }

        if (!_notes.TryPass(Environment.TickCount64, out long leftOut))
        {
            return Answer("busy", "too many notes; it is counted only");
        }

        _journal.Rejected(person, WithLeftOut(message.Reason!.Trim(), leftOut));
        return Answer("accepted", "written down");
    }

    private byte[] Ask(RequestMessage message, PeerIdentity peer)
    {
        if (!RequestReader.TryCheck(message, _options.Units, peer.ToString(), out RequestOrder? order, out string fault))
        {
            Reject(peer.ToString(), fault);
            return Answer("invalid", fault);
        }

        long id = _desk.Submit(order!);
        if (id == RequestDesk.Unrecorded)
        {
            return Answer("unavailable", "the journal cannot take the request down, so it was not put to the guard; look at the disk of the data folder and try again");
        }

        if (id == RequestDesk.Busy)
        {
            Reject(order!.Person, $"{message.Kind} {order.UnitName}: another request of the unit is not decided yet");
            return Answer("busy", $"another request for {order.UnitName} is not decided yet; try again");
        }

        return _desk.WaitDecision(order!.Unit, id, _options.DecisionLimitMs, out var decision)
            ? Line(JsonSerializer.SerializeToUtf8Bytes(AnswerOf(decision, order.Kind), RequestJson.Default.RequestAnswer))
            : Answer("unavailable", $"no scan decided within {_options.DecisionLimitMs} ms; the request was withdrawn");
    }

    /// <summary>The answer that states a decision of the core.</summary>
    internal static RequestAnswer AnswerOf(in Core.Interlocks.GuardEvent decision, Core.Signals.RequestKind kind)
    {
        bool accepted = decision.Id == Core.Interlocks.EventId.RequestAccepted;
        bool hasFunction = decision.Function != Core.Interlocks.FunctionId.None;
        return new RequestAnswer
        {
            Result = accepted ? "accepted" : "refused",
            Message = RefusalText.Of(decision, kind),
            Id = decision.Detail,
            Scan = decision.Scan,
            Reason = accepted ? null : decision.Reason.ToString(),
            Function = hasFunction ? Records.Journal.FunctionTexts.Of(decision.Function).Code : null,
            Value = hasFunction ? Finite.OrNull(decision.Value) : null,
            Limit = hasFunction ? Finite.OrNull(decision.Limit) : null,
        };
    }

    private static byte[] Answer(string result, string message) =>
        Line(JsonSerializer.SerializeToUtf8Bytes(new RequestAnswer { Result = result, Message = message }, RequestJson.Default.RequestAnswer));

    private static byte[] Line(byte[] json) => [.. json, (byte)'\n'];

    private static void TrySend(Socket client, byte[] line)
    {
        try
        {
            client.SendTimeout = RequestLimits.ReceiveLimitMs;
            client.Send(line);
        }
        catch (SocketException)
        {
            // A client that does not listen gets no answer.
        }
    }

    private static void TryShutdown(Socket socket)
    {
        try
        {
            socket.Shutdown(SocketShutdown.Both);
        }
        catch (SocketException)
        {
            // Not connected: nothing to shut down.
        }
    }
}
