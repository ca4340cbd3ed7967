namespace EdgeGuard.VirtualPlant.Ledger;

/// <summary>Energy balance of the plant since a cold start: what came in is in the gas, lost, or stored.</summary>
public sealed class EnergyRecord
{
    /// <summary>Electrical energy, kJ.</summary>
    public double InKj { get; private set; }

    /// <summary>Heat taken up by the gas, kJ.</summary>
    public double GasKj { get; private set; }

    /// <summary>Heat given to the hall, kJ.</summary>
    public double LostKj { get; private set; }

    /// <summary>Heat stored at the last step, kJ; zero at the temperature of the hall.</summary>
    public double StoredKj { get; private set; }

    /// <summary>Energy that is nowhere: in less gas, loss and store, kJ.</summary>
    public double ResidualKj => InKj - GasKj - LostKj - StoredKj;

    /// <summary>Takes one step.</summary>
    public void Observe(in LedgerSample sample)
    {
        double seconds = sample.StepMs / 1000.0;
        InKj += sample.PowerKw * seconds;
        GasKj += sample.GasKw * seconds;
        LostKj += sample.LossKw * seconds;
        StoredKj = sample.StoredKj;
    }
}
