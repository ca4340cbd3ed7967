using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>A signal that a person may force.</summary>
/// <param name="Role">The signal; one for which <see cref="SignalRoles.MayBeForced"/> is false has no effect here.</param>
/// <param name="Min">Lowest value that may be forced, in the engineering unit of the signal.</param>
/// <param name="Max">Highest value that may be forced.</param>
public sealed record ForcibleSignal(SignalRole Role, double Min, double Max);
