namespace EdgeGuard.Service.Thermocouples;

/// <summary>Letter of a thermocouple, IEC 60584-1.</summary>
public enum ThermocoupleType
{
    /// <summary>Not stated: nothing can be computed.</summary>
    None = 0,

    /// <summary>Nickel-chromium against nickel-aluminium.</summary>
    K = 1,

    /// <summary>Nickel-chromium-silicon against nickel-silicon.</summary>
    N = 2,

    /// <summary>Platinum with 10 % rhodium against platinum.</summary>
    S = 3,
}
