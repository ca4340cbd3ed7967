using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Takes every scan from the guard's ring into the nodes, in order and without leaving one out unless the ring has
/// overwritten it. When no scan comes the values grow old before the eyes of the client: last usable value, then no
/// communication. The guard notices none of this.
/// </summary>
internal sealed class RingFeed : IDisposable
{
    private const int LateScans = 5;
    private const int HeadMs = 1000;
    private const int OpenMs = 250;
    private const int CatchUpMax = 256;
    private const long TicksPerMs = 10_000;

    private readonly FeedOptions _options;
    private readonly SiteNodes _nodes;
    private readonly UnitWriter[] _units;
    private readonly LinkWriter[] _links;
    private readonly GuardWriter _guard;
    private readonly StaleMarker _stale;
    private readonly ScanRingRecord _record = new();
    private readonly ScanRingLink _link = new();
    private ScanRingReader? _ring;
    private long _next;
    private long _lastScanMs;
    private long _nextHeadMs;
    private long _nextOpenMs;
    private string? _complaint;
    private GuardLink? _age;
    private bool _found;
    private bool _heard;

    public RingFeed(FeedOptions options, SiteNodes nodes, long nowMs)
    {
        (_options, _nodes, _lastScanMs) = (options, nodes, nowMs);
        _units = [.. nodes.Units.Select((unit, index) => new UnitWriter(unit, options.Site.Units[index], index))];
        _links = Array.ConvertAll(nodes.Links, static link => new LinkWriter(link));
        _guard = new GuardWriter(nodes.Guard, options.JournalHeadPath);
        _stale = new StaleMarker(nodes);
    }

    /// <summary>How the guard is seen.</summary>
    public GuardLink Link { get; private set; }

    /// <summary>Scans the ring had overwritten before they were read.</summary>
    public long RecordsLost { get; private set; }

    /// <summary>Takes what is new. Calls <paramref name="updated"/> after each scan. Returns how many scans were taken.</summary>
    public int Poll(ChannelClock now, Action<ChannelClock> updated)
    {
        if (now.MonotonicMs >= _nextHeadMs)
        {
            _nextHeadMs = now.MonotonicMs + HeadMs;
            _guard.WriteJournalHead(now.Utc);
            CheckRun();
        }

        int taken = TryOpen(now) ? TakeScans(now, updated) : 0;
        Judge(now, taken, updated);
        return taken;
    }

    public void Dispose() => _ring?.Dispose();

    private int TakeScans(ChannelClock now, Action<ChannelClock> updated)
    {
        long written = _ring!.ReadLive().ScansWritten;
        int taken = 0;
        while (_next < written && taken < CatchUpMax)
        {
            if (TakeScan(now.Utc))
            {
                taken++;
                _next++;
                updated(now);
                continue;
            }

            long newest = Math.Max(_next + 1, written - (_ring.ScanCapacity / 2));
            RecordsLost += newest - _next;
            _next = newest;
        }

        return taken;
    }

    private bool TakeScan(UaDateTime now)
    {
        double sitePowerKw = double.NaN;
        for (int unit = 0; unit < _units.Length; unit++)
        {
            if (_ring!.Read(_next, unit, _record) != RingReadOutcome.Good)
            {
                return false;
            }

            _units[unit].Write(_record, _ring, now);
            sitePowerKw = _record.SitePowerKw;
        }

        WriteLinks(now);
        ScanRingLive live = _ring!.ReadLive();
        _guard.Write(live, sitePowerKw, now);
        _nodes.Alarms.Write(live, now);
        return true;
    }

    private void WriteLinks(UaDateTime now)
    {
        var scan = UaDateTime.FromUnixMs(_record.UtcUnixMs);
        for (int link = 0; link < _links.Length; link++)
        {
            _ring!.ReadLink(link, _link);
            _links[link].Write(_link, scan < now ? scan : now);
        }
    }

    // Values grow old by the time since a scan came. How the guard is seen says more: before the first scan there is none.
    private void Judge(ChannelClock now, int taken, Action<ChannelClock> updated)
    {
        Hear(now, taken);
        long silentMs = now.MonotonicMs - _lastScanMs;
        GuardLink age = silentMs >= _options.LostMs ? GuardLink.Lost : silentMs >= LateMs() ? GuardLink.Late : GuardLink.Live;
        GuardLink link = _heard && age != GuardLink.Lost ? age : _ring is null ? GuardLink.Absent : GuardLink.Lost;
        if (link == Link && age == _age && taken == 0)
        {
            return;
        }

        if (link != Link)
        {
            _options.Log.Note($"guard: {link}");
        }

        (Link, _age) = (link, age);
        _guard.WriteLink(link, RecordsLost, now.Utc);
        if (age != GuardLink.Live)
        {
            _stale.Mark(age, now.Utc);
            updated(now);
        }
    }

    // What a ring that was just opened holds may be the last word of a guard that ended long ago: that one scan is as old as
    // its stamp says. From then on scans are seen to come, and the clock of day has no say.
    private void Hear(ChannelClock now, int taken)
    {
        if (taken > 0)
        {
            bool onlyFound = _found && taken == 1;
            long ageMs = onlyFound ? (now.Utc.Ticks - UaDateTime.FromUnixMs(_record.UtcUnixMs).Ticks) / TicksPerMs : 0;
            _lastScanMs = now.MonotonicMs - Math.Clamp(ageMs, 0, _options.LostMs);
            (_found, _heard) = (false, true);
        }
    }

    private int LateMs() => Math.Max(_options.LateMs, LateScans * _options.Site.ScanMs);

    private void CheckRun()
    {
        if (_ring is not null && _ring.WasReplaced())
        {
            _ring.Dispose();
            _ring = null;
        }
    }

    private bool TryOpen(ChannelClock now)
    {
        if (_ring is not null || now.MonotonicMs < _nextOpenMs)
        {
            return _ring is not null;
        }

        _nextOpenMs = now.MonotonicMs + OpenMs;
        try
        {
            var ring = new ScanRingReader(_options.RingPath);
            if (!Belongs(ring))
            {
                ring.Dispose();
                return false;
            }

            _ring = ring;
            _complaint = null;
            _next = Math.Max(0, ring.ReadLive().ScansWritten - 1);
            _found = true;
            _guard.WriteRun(ring.RunId, now.Utc);
            _options.Log.Note($"guard: run {ring.RunId}");
            return true;
        }
        catch (Exception e) when (e is IOException or InvalidDataException or UnauthorizedAccessException)
        {
            Complain(e.Message);
            return false;
        }
    }

    private bool Belongs(ScanRingReader ring)
    {
        string[] units = [.. _options.Site.Units.Select(static (UnitTable unit) => unit.Name)];
        if (!AreSame("units", ring.UnitNames, units) || !AreSame("links", ring.LinkNames, _options.LinkNames))
        {
            return false;
        }

        if (!ring.SiteDigest.SequenceEqual(_options.SiteDigest))
        {
            _options.Log.Refused("the site file was changed since the guard started: ranges shown may differ from those in force until the guard is restarted");
        }

        return true;
    }

    private bool AreSame(string what, IReadOnlyList<string> running, IReadOnlyList<string> expected)
    {
        bool same = running.SequenceEqual(expected, StringComparer.Ordinal);
        if (!same)
        {
            Complain($"{_options.RingPath}: the guard runs with other {what} ({string.Join(", ", running)}) than the site file has now ({string.Join(", ", expected)}); restart the guard or put the site file back");
        }

        return same;
    }

    // Once, not at each attempt.
    private void Complain(string sentence)
    {
        if (!string.Equals(sentence, _complaint, StringComparison.Ordinal))
        {
            _complaint = sentence;
            _options.Log.Refused(sentence);
        }
    }
}
