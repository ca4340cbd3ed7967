using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Who asked for the latest accepted bypass of each function, on its way from the decision to the ring. Scan thread only;
/// it moves references and allocates nothing.
/// </summary>
public sealed class BypassPersons
{
    private readonly string?[] _new;
    private bool _any;

    /// <summary>Allocates one place for each function of each unit.</summary>
    public BypassPersons(int unitCount) => _new = new string?[unitCount * FunctionIds.Count];

    /// <summary>A bypass of a function was accepted.</summary>
    public void Set(int unit, FunctionId function, string person)
    {
        _new[(unit * FunctionIds.Count) + (int)function] = person;
        _any = true;
    }

    /// <summary>Takes the next new one; false when there is none.</summary>
    public bool TryTake(out int unit, out FunctionId function, out string person)
    {
        for (int i = 0; _any && i < _new.Length; i++)
        {
            if (_new[i] is { } name)
            {
                (unit, function, person) = (i / FunctionIds.Count, (FunctionId)(i % FunctionIds.Count), name);
                _new[i] = null;
                return true;
            }
        }

        _any = false;
        (unit, function, person) = (0, FunctionId.None, "");
        return false;
    }
}
