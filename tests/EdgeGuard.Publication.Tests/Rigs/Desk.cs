namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>A guard that accepts every request and remembers it.</summary>
internal sealed class Desk : IGuardRequests
{
    public List<GuardRequest> Asked { get; } = [];

    public System.Collections.Concurrent.ConcurrentQueue<string> Noted { get; } = new();

    public GuardReply Ask(GuardRequest request)
    {
        Asked.Add(request);
        return new GuardReply(GuardOutcome.Accepted, "accepted by the desk");
    }

    public void Note(string person, string reason) => Noted.Enqueue($"{person}: {reason}");
}
