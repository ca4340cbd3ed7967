namespace EdgeGuard.Demo;

/// <summary>A fault the story put into the plant, or an act under a fault, after which power must go in time.</summary>
/// <param name="Unit">Unit concerned.</param>
/// <param name="What">What happened, for the table of figures.</param>
/// <param name="AtMs">Plant time, ms.</param>
/// <param name="LimitMs">Longest time to power off, ms.</param>
internal sealed record DemoFault(string Unit, string What, long AtMs, int LimitMs);
