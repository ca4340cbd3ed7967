namespace EdgeGuard.Publication;

/// <summary>The guard's answer to a request.</summary>
/// <param name="Outcome">What became of it.</param>
/// <param name="Message">A sentence for the person.</param>
public sealed record GuardReply(GuardOutcome Outcome, string Message);
