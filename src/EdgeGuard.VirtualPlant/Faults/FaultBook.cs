namespace EdgeGuard.VirtualPlant.Faults;

/// <summary>The faults that are active in one cabinet. Not thread-safe: guarded by the cabinet's lock.</summary>
public sealed class FaultBook
{
    private readonly double[] _arguments = new double[32];

    private uint _active;

    /// <summary>True while the fault is active.</summary>
    public bool Has(FaultKind kind) => (_active & Bit(kind)) != 0;

    /// <summary>Argument of an active fault, else the value given.</summary>
    public double ArgumentOr(FaultKind kind, double otherwise) => Has(kind) ? _arguments[(int)kind] : otherwise;

    /// <summary>Activates a fault.</summary>
    public void Set(FaultKind kind, double argument)
    {
        _active |= Bit(kind);
        _arguments[(int)kind] = argument;
    }

    /// <summary>Clears a fault; no effect when it is not active.</summary>
    public void Clear(FaultKind kind) => _active &= ~Bit(kind);

    /// <summary>Clears all faults.</summary>
    public void ClearAll() => _active = 0;

    private static uint Bit(FaultKind kind) => 1u << (int)kind;
}
