using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Interlocks;

/// <summary>Settings of BALA: power less stored heat and learnt loss against what the gas carries away.</summary>
public sealed record BalanceTable
{
    /// <summary>The balance and its uncertainties.</summary>
    public required EnergyBalanceTable Balance { get; init; }

    /// <summary>Quasi-steady blocks in a row that must disagree.</summary>
    public int Blocks { get; init; } = 2;

    /// <summary>A balance that disagrees shuts down in a controlled way instead of an alarm alone.</summary>
    public bool ControlledShutdown { get; init; }
}
