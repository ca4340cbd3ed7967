namespace EdgeGuard.Service.Requests;

/// <summary>Where requests are written down before the core sees them. No member waits.</summary>
public interface IRequestJournal
{
    /// <summary>A request is about to be put to the core; false when it could not be taken down.</summary>
    bool Received(RequestOrder order, long id);

    /// <summary>A request never reached the core; <paramref name="why"/> says what was wrong.</summary>
    void Rejected(string person, string why);
}
