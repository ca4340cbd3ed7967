namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// A function whose verdict can rest on a forced value. It remembers twice while that is so: what came of the judged
/// values and what came of the real ones, which is a copy of the first when the force begins and takes its place when the
/// force ends. So the real condition keeps its delay and its hysteresis, and one that stands demands in that very scan.
/// While nothing is forced there is one memory and one judgement.
/// </summary>
/// <typeparam name="TMemory">What the function remembers from scan to scan; holds no references.</typeparam>
internal abstract class ForcibleFunction<TMemory>(FunctionId id) : ProtectiveFunction(id)
    where TMemory : unmanaged
{
    private TMemory _memory;
    private TMemory _real;
    private ulong _forced;

    /// <summary>Judges the image of the unit.</summary>
    /// <param name="unit">Facts and image.</param>
    /// <param name="memory">What the judgement before left.</param>
    /// <param name="status">Overwritten.</param>
    protected abstract void Judge(UnitMemory unit, ref TMemory memory, ref FunctionStatus status);

    /// <inheritdoc/>
    public sealed override bool JudgesForced => true;

    /// <inheritdoc/>
    public sealed override void Evaluate(UnitMemory unit, ref FunctionStatus status)
    {
        ulong forced = unit.ForcedInputs(Id);
        if (_forced == 0)
        {
            _real = _memory;
        }
        else if ((_forced & ~forced) != 0)
        {
            _memory = _real;
        }

        _forced = forced;
        Judge(unit, ref _memory, ref status);
    }

    /// <inheritdoc/>
    public sealed override void EvaluateReal(UnitMemory unit, ref FunctionStatus status) => Judge(unit, ref _real, ref status);
}
