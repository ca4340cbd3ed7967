using EdgeGuard.Records.Journal;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// Decides which comings and goings of a link are worth a line. A loss is told at once, its end only when the link has
/// stayed up for a while: a dead device behind a gateway takes the link down every few scans, and journal and log must
/// not grow with that.
/// </summary>
internal sealed class LinkReporter
{
    private const long StableUs = 2_000_000;

    private readonly ILinkObserver _observer;
    private readonly FieldClock _clock;
    private readonly string _link;
    private bool? _toldUp;
    private long _upSinceUs;

    public LinkReporter(ILinkObserver observer, FieldClock clock, string link)
    {
        _observer = observer;
        _clock = clock;
        _link = link;
    }

    public void Connected() => _upSinceUs = _clock.NowUs;

    public void StillUp()
    {
        if (_toldUp != true && (_toldUp is null || _clock.NowUs - _upSinceUs >= StableUs))
        {
            _toldUp = true;
            _observer.LinkUp(_link);
        }
    }

    public void Lost(string cause)
    {
        if (_toldUp != false)
        {
            _toldUp = false;
            _observer.LinkDown(_link, cause);
        }
    }

    public void Devices(DeviceNews news)
    {
        while (news.TryTake(out ShellEventId id, out string? text))
        {
            _observer.DeviceTold(_link, id, text);
        }
    }

    public void Fault(Exception fault)
    {
        _toldUp = false;
        _observer.LinkFault(_link, fault);
    }
}
