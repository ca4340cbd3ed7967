namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>The machine's UTC, moved by a step.</summary>
internal sealed class SteppedTime : TimeProvider
{
    public int StepMs { get; set; }

    public override DateTimeOffset GetUtcNow() => System.GetUtcNow().AddMilliseconds(StepMs);
}
