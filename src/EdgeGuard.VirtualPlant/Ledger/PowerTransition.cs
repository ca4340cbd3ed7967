namespace EdgeGuard.VirtualPlant.Ledger;

/// <summary>One change between powered and not powered.</summary>
/// <param name="AtMs">Plant time, ms.</param>
/// <param name="On">True when power came on.</param>
/// <param name="PowerKw">Power after the change, kW.</param>
/// <param name="Permit">Permit at the change; Permitted means that the controller itself changed its demand.</param>
/// <param name="SinceTokenMs">Time since the last valid change of the permit token, ms.</param>
public sealed record PowerTransition(long AtMs, bool On, double PowerKw, PermitState Permit, long SinceTokenMs);
