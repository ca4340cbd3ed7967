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

    /// <summary>Settings of a device differ from what was commissioned, or agree again; told once a change.</summary>
    void SettingsCompared(string link, bool differ, string what);

    /// <summary>A device refuses a function by which single values are written, and gets them by another one from now on; told once a device.</summary>
    void FunctionReplaced(string link, string what);

    /// <summary>A device refuses registers of its map, or is silent on a link that stands; told once a run.</summary>
    void PollFails(string link, string what);
}
