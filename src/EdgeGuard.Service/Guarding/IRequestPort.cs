using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Guarding;

/// <summary>Requests of people as the scan thread uses them. No member waits.</summary>
public interface IRequestPort
{
    /// <summary>Moves the pending request of each unit into the scan and clears its slot.</summary>
    void Take(OperatorRequest[] requests);

    /// <summary>Hands back the decision of the core on a request.</summary>
    void Decided(in GuardEvent decision);

    /// <summary>Gives out the identity of a request that the guard itself makes.</summary>
    long NextId();
}
