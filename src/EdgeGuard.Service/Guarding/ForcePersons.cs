using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Who asked for the latest accepted force of each signal and why, on its way from the decision to the ring. Scan thread
/// only; it moves references and allocates nothing.
/// </summary>
public sealed class ForcePersons
{
    private readonly (string Person, string Reason)?[] _new;
    private bool _any;

    /// <summary>Allocates one place for each signal of each unit.</summary>
    public ForcePersons(int unitCount) => _new = new (string, string)?[unitCount * SignalRoles.Count];

    /// <summary>A force of a signal was accepted.</summary>
    public void Set(int unit, SignalRole signal, string person, string reason)
    {
        _new[(unit * SignalRoles.Count) + (int)signal] = (person, reason);
        _any = true;
    }

    /// <summary>Takes the next new one; false when there is none.</summary>
    public bool TryTake(out int unit, out SignalRole signal, out string person, out string reason)
    {
        for (int i = 0; _any && i < _new.Length; i++)
        {
            if (_new[i] is { } found)
            {
                (unit, signal, person, reason) = (i / SignalRoles.Count, (SignalRole)(i % SignalRoles.Count), found.Person, found.Reason);
                _new[i] = null;
                return true;
            }
        }

        _any = false;
        (unit, signal, person, reason) = (0, default, "", "");
        return false;
    }
}
