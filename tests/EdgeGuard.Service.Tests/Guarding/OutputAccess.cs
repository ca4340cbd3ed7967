using System.Runtime.CompilerServices;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>Lets a test write what only the core may write.</summary>
internal static class OutputAccess
{
    [UnsafeAccessor(UnsafeAccessorKind.Method, Name = "set_EventCount")]
    public static extern void SetEventCount(ScanOutput output, int count);

    [UnsafeAccessor(UnsafeAccessorKind.Method, Name = "set_Permit")]
    public static extern void SetPermit(UnitDecision decision, bool permit);

    public static void SetState(UnitDecision decision, UnitState state, FunctionId firstOut)
    {
        SetState(decision, state);
        SetFirstOut(decision, firstOut);
    }

    public static void SetSignal(UnitDecision decision, SignalRole role, double value) =>
        decision.Image[role] = new SignalValue { Value = value, Status = StatusCode.Good, Known = true };

    public static void AddEvent(ScanOutput output, GuardEvent told)
    {
        output.Events[output.EventCount] = told;
        SetEventCount(output, output.EventCount + 1);
    }

    public static void ClearEvents(ScanOutput output) => SetEventCount(output, 0);

    [UnsafeAccessor(UnsafeAccessorKind.Method, Name = "set_LedSetpointC")]
    public static extern void SetLed(UnitDecision decision, double celsius);

    [UnsafeAccessor(UnsafeAccessorKind.Method, Name = "set_State")]
    private static extern void SetState(UnitDecision decision, UnitState state);

    [UnsafeAccessor(UnsafeAccessorKind.Method, Name = "set_FirstOut")]
    private static extern void SetFirstOut(UnitDecision decision, FunctionId function);
}
