namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>Publish requests that wait in a session, oldest first, and status messages that wait for one. Under the server's gate.</summary>
internal sealed class PublishQueue
{
    private readonly Queue<PendingPublish> _waiting = new();
    private readonly Queue<StatusMessage> _messages = new();

    public int Count => _waiting.Count;

    public int MessageCount => _messages.Count;

    public void Add(in PendingPublish publish) => _waiting.Enqueue(publish);

    /// <summary>The oldest, in time or not.</summary>
    public bool TryTakeAny(out PendingPublish publish) => _waiting.TryDequeue(out publish);

    /// <summary>Whether one waits whose time-out has passed, wherever it stands: each has its own.</summary>
    public bool HasOver(long nowMs)
    {
        foreach (PendingPublish publish in _waiting)
        {
            if (nowMs >= publish.EndMs)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>Takes out all whose time-out has passed.</summary>
    public List<PendingPublish> TakeAllOver(long nowMs) => TakeAll(publish => nowMs >= publish.EndMs);

    /// <summary>Takes out all with a handle.</summary>
    public List<PendingPublish> TakeAll(uint requestHandle) => TakeAll(publish => publish.RequestHandle == requestHandle);

    public void AddMessage(in StatusMessage message, int messagesMax)
    {
        if (_messages.Count >= messagesMax)
        {
            _messages.Dequeue();
        }

        _messages.Enqueue(message);
    }

    public bool TryTakeMessage(out StatusMessage message) => _messages.TryDequeue(out message);

    /// <summary>The connection is gone: nobody waits any more.</summary>
    public void Clear() => _waiting.Clear();

    private List<PendingPublish> TakeAll(Predicate<PendingPublish> isMeant)
    {
        var taken = new List<PendingPublish>();
        for (int left = _waiting.Count; left > 0; left--)
        {
            PendingPublish publish = _waiting.Dequeue();
            if (isMeant(publish))
            {
                taken.Add(publish);
            }
            else
            {
                _waiting.Enqueue(publish);
            }
        }

        return taken;
    }
}
