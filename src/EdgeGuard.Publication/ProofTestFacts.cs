namespace EdgeGuard.Publication;

/// <summary>When the interlocks of a unit were proof-tested.</summary>
/// <param name="Tested">Day of the latest test; null when none is stated.</param>
/// <param name="Due">Day by which the next is due; null when unknown.</param>
public sealed record ProofTestFacts(DateOnly? Tested, DateOnly? Due);
