using System.Runtime.CompilerServices;
using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>Lets a test write what only the core may write.</summary>
internal static class OutputAccess
{
    [UnsafeAccessor(UnsafeAccessorKind.Method, Name = "set_EventCount")]
    public static extern void SetEventCount(ScanOutput output, int count);

    [UnsafeAccessor(UnsafeAccessorKind.Method, Name = "set_Permit")]
    public static extern void SetPermit(UnitDecision decision, bool permit);
}
