namespace EdgeGuard.Core.Interlocks;

/// <summary>Settings of the bypass: which functions a person may bypass and for how long. By default none.</summary>
public sealed record BypassTable
{
    /// <summary>Functions that may be bypassed; one for which <see cref="FunctionIds.MayBeBypassed"/> is false has no effect here.</summary>
    public IReadOnlyList<FunctionId> Functions { get; init; } = [];

    /// <summary>Longest time of one bypass, minutes.</summary>
    public int MaxMinutes { get; init; } = 480;
}
