namespace EdgeGuard.Service.Configuration;

/// <summary>Used registers or bits of a read request, without a gap inside.</summary>
/// <param name="Offset">First one, from the beginning of the request.</param>
/// <param name="Count">How many.</param>
public readonly record struct PollSpan(int Offset, int Count);
