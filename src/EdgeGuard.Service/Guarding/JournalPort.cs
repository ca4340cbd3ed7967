using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.FieldIo;
using EdgeGuard.Service.Requests;
using Serilog;
using Serilog.Events;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// The journal thread behind the seams of this assembly: events of the core from the scan thread, entries of the
/// shell (requests, links, clock, start and stop) from any other. Shell entries also go to the log.
/// </summary>
internal sealed class JournalPort : IEventPort, IRequestJournal, ILinkObserver
{
    private readonly JournalThread _journal;
    private readonly Func<long> _utcNowMs;
    private readonly ILogger _log;

    public JournalPort(JournalThread journal, Func<long> utcNowMs, ILogger log)
    {
        _journal = journal;
        _utcNowMs = utcNowMs;
        _log = log;
    }

    /// <summary>The time that stands in entries.</summary>
    public DateTime UtcNow => DateTimeOffset.FromUnixTimeMilliseconds(_utcNowMs()).UtcDateTime;

    /// <inheritdoc/>
    public long DurableEvent => _journal.DurableEvent;

    /// <inheritdoc/>
    public JournalHealth Health => _journal.Health;

    /// <summary>Why the journal cannot be written; empty when it can.</summary>
    public string Failure => _journal.Failure;

    /// <inheritdoc/>
    public void Enqueue(in GuardEvent e) => _journal.TryEnqueue(e);

    /// <inheritdoc/>
    public bool Received(RequestOrder order, long id) => Post(Entry(ShellEventId.RequestReceived) with
    {
        Unit = order.UnitName,
        Person = order.Person,
        Reason = order.Reason,
        Detail = id,
        Text = TextOf(order),
        Function = order.IsAboutAlarm ? AlarmTexts.CodeOf(order.Function) : order.Function == FunctionId.None ? null : FunctionTexts.Of(order.Function).Code,
    });

    private static string TextOf(RequestOrder order) => order.Kind switch
    {
        RequestKind.Bypass => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"bypass for {order.Minutes} min"),
        RequestKind.Force => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"force {order.Signal} to {order.Value} for {order.Minutes} min"),
        RequestKind.Unforce => $"unforce {order.Signal}",
        RequestKind.Shelve => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"shelve the alarm for {order.Minutes} min"),
        RequestKind.Unshelve => "take the alarm from the shelf",
        RequestKind.RemoveFromService => "take the alarm out of service",
        RequestKind.ReturnToService => "return the alarm to service",
        RequestKind.ClassifyGenuine => "classify as genuine",
        RequestKind.ClassifySpurious => "classify as spurious",
        _ => order.Kind.ToString().ToLowerInvariant(),
    };

    /// <inheritdoc/>
    public void Rejected(string person, string why) => Post(Entry(ShellEventId.RequestRejected) with { Person = person, Reason = why });

    /// <inheritdoc/>
    public void LinkUp(string link)
    {
        _log.Information("link {Link}: connected", link);
        Post(Entry(ShellEventId.LinkUp) with { Text = link });
    }

    /// <inheritdoc/>
    public void LinkDown(string link, string cause)
    {
        _log.Warning("link {Link}: no connection, trying again: {Cause}", link, cause);
        Post(Entry(ShellEventId.LinkDown) with { Text = link, Reason = cause });
    }

    /// <inheritdoc/>
    public void LinkFault(string link, Exception fault)
    {
        _log.Error(fault, "link {Link}: fault of the program; the link is closed and taken up again", link);
        Post(Entry(ShellEventId.LinkDown) with { Text = link, Reason = "fault of the program: " + fault.Message });
    }

    /// <inheritdoc/>
    public void DeviceTold(string link, ShellEventId id, string what)
    {
        _log.Write(id == ShellEventId.SettingsAgree ? LogEventLevel.Information : LogEventLevel.Warning, "link {Link}: {What}", link, what);

        // Settings name their device, of which there is one in the site; the others name a unit id, of which each link has its own.
        bool namesDevice = id is ShellEventId.SettingsDiffer or ShellEventId.SettingsAgree;
        Post(Entry(id) with { Text = namesDevice ? what : link + ": " + what });
    }

    /// <summary>A certificate of a secured link is about to end, or has.</summary>
    public void CertificateEnds(string what, bool expired)
    {
        _log.Write(expired ? LogEventLevel.Error : LogEventLevel.Warning, "{What}", what);
        Post(Entry(ShellEventId.CertificateEnds) with { Text = what });
    }

    /// <summary>Posts any other entry of the shell.</summary>
    public void Post(ShellEventId id, string text, long? detail = null) => Post(Entry(id) with { Text = text, Detail = detail });

    /// <summary>Posts an entry of the shell about a unit.</summary>
    public void Post(ShellEventId id, string unit, string text) => Post(Entry(id) with { Unit = unit, Text = text });

    private JournalEntry Entry(ShellEventId id) => new() { Id = (int)id, UtcUnixMs = _utcNowMs() };

    private bool Post(JournalEntry entry)
    {
        bool taken = _journal.TryPost(entry);
        if (!taken)
        {
            _log.Error("journal: an entry was lost because the queue is full: {Id}", entry.Id);
        }

        return taken;
    }
}
