namespace EdgeGuard.Core.Alarms;

/// <summary>What decides beside the state where a transition leads.</summary>
/// <param name="IsLatching">The alarm latches.</param>
/// <param name="ConditionActive">The condition stands.</param>
/// <param name="LatchHeld">A latching alarm stood since its last reset.</param>
/// <param name="Suppressed">The designed suppression stands.</param>
public readonly record struct AlarmFacts(bool IsLatching, bool ConditionActive, bool LatchHeld, bool Suppressed);
