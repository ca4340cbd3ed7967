using System.Collections.Concurrent;
using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>Keeps what was logged.</summary>
internal sealed class ListLog : IServerLog
{
    public ConcurrentQueue<string> Lines { get; } = new();

    public void Note(string sentence) => Lines.Enqueue(sentence);

    public void Refused(string sentence) => Lines.Enqueue(sentence);
}
