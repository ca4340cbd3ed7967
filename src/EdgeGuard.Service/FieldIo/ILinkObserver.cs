using EdgeGuard.Records.Journal;

namespace EdgeGuard.Service.FieldIo;

/// <summary>Hears of links that come and go; called on the link's own thread, never on the scan thread.</summary>
public interface ILinkObserver
{
    /// <summary>The link is connected and has answered.</summary>
    void LinkUp(string link);

    /// <summary>The link is lost or was never reached; reported once a loss.</summary>
    void LinkDown(string link, string cause);

    /// <summary>A fault of the software in the link's thread; the link is closed and taken up again.</summary>
    void LinkFault(string link, Exception fault);

    /// <summary>
    /// A device of the link is not as expected, or is so again: its settings (told once a change), a function by which single
    /// values are written (once a device), registers it refuses or its silence on a link that stands (once a run).
    /// </summary>
    void DeviceTold(string link, ShellEventId id, string what);
}
