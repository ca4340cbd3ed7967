namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// One protective function of one unit. Each is evaluated in every scan, whatever the state of the unit; a function
/// that is not in force answers <see cref="FunctionState.Idle"/>. It judges only: trips, alarms and events are decided
/// from the verdicts by <see cref="UnitSequence"/>.
/// </summary>
internal abstract class ProtectiveFunction(FunctionId id)
{
    public FunctionId Id { get; } = id;

    /// <summary>It judges forced values and, beside them, the real ones; otherwise it judges real values only and a force takes no more than its demand.</summary>
    public virtual bool JudgesForced => false;

    /// <summary>Judges this scan; <paramref name="status"/> comes in cleared: not good, no since.</summary>
    public abstract void Evaluate(UnitMemory unit, ref FunctionStatus status);

    /// <summary>
    /// Judges the real values of this scan, after <see cref="Evaluate"/> and only while a value it rests on is forced; the
    /// image of the unit is the real one meanwhile.
    /// </summary>
    public virtual void EvaluateReal(UnitMemory unit, ref FunctionStatus status) => status.State = FunctionState.Idle;
}
