namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// One protective function of one unit. Each is evaluated in every scan, whatever the state of the unit; a function
/// that is not in force answers <see cref="FunctionState.Idle"/>. It judges only: trips, alarms and events are decided
/// from the verdicts by <see cref="UnitSequence"/>.
/// </summary>
internal abstract class ProtectiveFunction(FunctionId id)
{
    public FunctionId Id { get; } = id;

    /// <summary>Judges this scan; <paramref name="status"/> comes in cleared: not good, no since.</summary>
    public abstract void Evaluate(UnitMemory unit, ref FunctionStatus status);
}
