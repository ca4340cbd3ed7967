using System.Diagnostics.CodeAnalysis;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// What people are to be told of the devices of a link, on its way from where it was found to the journal. Used by the
/// link's own thread only. Each finder tells a thing once, and the worker empties it after each turn, so it stays short.
/// </summary>
internal sealed class DeviceNews
{
    private readonly Queue<(ShellEventId Id, string Text)> _waiting = new();

    /// <summary>Adds a sentence.</summary>
    public void Add(ShellEventId id, string text) => _waiting.Enqueue((id, text));

    /// <summary>Takes the oldest sentence; false when there is none.</summary>
    public bool TryTake(out ShellEventId id, [NotNullWhen(true)] out string? text)
    {
        bool any = _waiting.TryDequeue(out (ShellEventId Id, string Text) oldest);
        (id, text) = oldest;
        return any;
    }
}
