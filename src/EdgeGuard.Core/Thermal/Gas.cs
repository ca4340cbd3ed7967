namespace EdgeGuard.Core.Thermal;

/// <summary>A process gas whose properties are known here.</summary>
public enum Gas : byte
{
    /// <summary>Not configured: enthalpy is not a number, a minimum flow is infinite.</summary>
    None = 0,

    /// <summary>Dry air: 78.084 % N2, 20.9476 % O2, 0.9365 % Ar, 0.0319 % CO2 by volume (as NASA/TP-2002-211556).</summary>
    Air = 1,

    /// <summary>Nitrogen.</summary>
    Nitrogen = 2,

    /// <summary>Argon.</summary>
    Argon = 3,

    /// <summary>Carbon dioxide.</summary>
    CarbonDioxide = 4,

    /// <summary>Oxygen.</summary>
    Oxygen = 5,
}
