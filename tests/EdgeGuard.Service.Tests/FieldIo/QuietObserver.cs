using System.Collections.Concurrent;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>Keeps what it hears.</summary>
internal sealed class QuietObserver : ILinkObserver
{
    public ConcurrentQueue<string> Heard { get; } = new();

    public Action OnFault { get; set; } = static () => { };

    public void LinkUp(string link) => Heard.Enqueue("up " + link);

    public void LinkDown(string link, string cause) => Heard.Enqueue("down " + link);

    public void LinkFault(string link, Exception fault)
    {
        Heard.Enqueue("fault " + link);
        OnFault();
    }

    public void DeviceTold(string link, ShellEventId id, string what) => Heard.Enqueue($"{id} {what}");
}
