namespace EdgeGuard.Service.Guarding;

/// <summary>Digests of what the learnt figures of a unit rest on: a figure that was learnt on another basis is discarded.</summary>
public sealed record LearntBasis
{
    /// <summary>Basis of the loss of the energy balance: 64 hexadecimal digits; "-" where nothing is learnt.</summary>
    public string Loss { get; init; } = "-";

    /// <summary>Basis of the learnt noise of the sensors.</summary>
    public string Floors { get; init; } = "-";

    /// <summary>Basis of the trend of the legs.</summary>
    public string Legs { get; init; } = "-";

    /// <summary>Basis of the trends of LEAK.</summary>
    public string Leak { get; init; } = "-";
}
