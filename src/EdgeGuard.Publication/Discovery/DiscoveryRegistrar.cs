using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.Publication.Discovery;

/// <summary>
/// Keeps this server registered with a discovery server (OPC 10000-4, 5.4.5): again and again while it runs, 10 minutes
/// apart at most; after a failure from a second on, the wait doubled each time up to the usual one; at the end once more as
/// offline. A thread of its own: the server serves whether or not there is a discovery server. The log is told of a change only.
/// </summary>
internal sealed class DiscoveryRegistrar : IDisposable
{
    // The guard gives its publisher 3 s in all for an orderly end.
    private const int JoinMs = 1_000;

    private readonly DiscoveryOptions _options;
    private readonly IServerLog _log;
    private readonly DiscoveryRegistration _registration;
    private readonly ManualResetEventSlim _stop = new();
    private readonly Thread _thread;
    private string? _told;
    private bool _registered;

    public DiscoveryRegistrar(DiscoveryOptions options, IServerLog log)
    {
        (_options, _log) = (options, log);
        _registration = new DiscoveryRegistration(options);
        _thread = new Thread(Run) { IsBackground = true, Name = "discovery" };
    }

    public void Start() => _thread.Start();

    /// <summary>Says that this server goes offline, if there is somebody to take it within a limit.</summary>
    public void Dispose()
    {
        _stop.Set();
        if (_thread.ThreadState.HasFlag(ThreadState.Unstarted) || _thread.Join(JoinMs))
        {
            _stop.Dispose();
        }
    }

    private void Run()
    {
        int retryMs = _options.RetryMs;
        bool stopped = false;
        while (!stopped)
        {
            if (TryRegister(online: true))
            {
                retryMs = _options.RetryMs;
                stopped = _stop.Wait(_options.EveryMs);
            }
            else
            {
                stopped = _stop.Wait(retryMs);
                retryMs = Math.Min(2 * retryMs, _options.EveryMs);
            }
        }

        if (_registered)
        {
            TryRegister(online: false);
        }
    }

    private bool TryRegister(bool online)
    {
        try
        {
            _registration.Register(online);
            _registered = online;
            Tell(online ? "registered with the discovery server" : "told the discovery server that this server goes offline", refused: false);
            return true;
        }
        catch (Exception e)
        {
            // Whatever it is: nobody who is served depends on it.
            Tell("not registered with the discovery server, trying again: " + e.Message, refused: true);
            return false;
        }
    }

    private void Tell(string what, bool refused)
    {
        if (string.Equals(what, _told, StringComparison.Ordinal))
        {
            return;
        }

        _told = what;
        string sentence = $"{_options.Server.OriginalString}: {what}";
        if (refused)
        {
            _log.Refused(sentence);
        }
        else
        {
            _log.Note(sentence);
        }
    }
}
