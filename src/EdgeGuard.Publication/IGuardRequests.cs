namespace EdgeGuard.Publication;

/// <summary>Takes requests of people to the guard, over its local socket. May be called from several threads; waits for the guard's decision.</summary>
public interface IGuardRequests
{
    /// <summary>Asks.</summary>
    GuardReply Ask(GuardRequest request);

    /// <summary>Has it written down that somebody was refused without asking the guard. Lost without a word when the guard does not take it.</summary>
    /// <param name="person">Who asked.</param>
    /// <param name="reason">What was asked and why it was refused.</param>
    void Note(string person, string reason);
}
