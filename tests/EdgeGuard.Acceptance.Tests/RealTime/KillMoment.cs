namespace EdgeGuard.Acceptance.Tests.RealTime;

/// <summary>When the guard is killed.</summary>
internal enum KillMoment
{
    PreFlow,
    Heating,
    Holding,
    Requests,
}
