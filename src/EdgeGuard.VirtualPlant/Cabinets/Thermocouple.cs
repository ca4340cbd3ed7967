namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>What the controller makes of one thermocouple under its faults.</summary>
public sealed class Thermocouple
{
    private readonly double _terminalC;

    /// <summary>A thermocouple at the temperature of its terminals, °C.</summary>
    public Thermocouple(double terminalC)
    {
        _terminalC = terminalC;
        IndicatedC = terminalC;
    }

    /// <summary>Up-scale reading of a broken thermocouple.</summary>
    public const double BrokenC = 9999.0;

    /// <summary>Reading, °C.</summary>
    public double IndicatedC { get; private set; }

    /// <summary>True when the input detects an open circuit.</summary>
    public bool Broken { get; private set; }

    /// <summary>Takes the junction's temperature through the active faults; a break hides all others.</summary>
    public void Step(double junctionC, bool broken, bool frozen, bool shorted, bool reversed)
    {
        Broken = broken;
        if (broken)
        {
            IndicatedC = BrokenC;
        }
        else if (shorted)
        {
            IndicatedC = _terminalC;
        }
        else if (!frozen)
        {
            // Reversed: the loop subtracts what it should add to the terminal temperature.
            IndicatedC = reversed ? (2.0 * _terminalC) - junctionC : junctionC;
        }
    }
}
