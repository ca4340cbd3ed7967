using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Guarding;

/// <summary>The journal as the scan thread uses it. No member waits for the disk.</summary>
public interface IEventPort
{
    /// <summary>Highest event sequence number known to be on disk; 0 when none.</summary>
    long DurableEvent { get; }

    /// <summary>Whether events can be made durable.</summary>
    JournalHealth Health { get; }

    /// <summary>Hands over one event. A full queue loses it, which shows in <see cref="Health"/> and holds the watermark.</summary>
    void Enqueue(in GuardEvent e);
}
