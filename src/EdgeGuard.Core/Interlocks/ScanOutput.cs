namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Output of one scan. The shell applies it in this order: de-energising writes; events to the journal; energising
/// writes; copy to ring and recording. Allocated once, overwritten each scan.
/// </summary>
public sealed class ScanOutput
{
    /// <summary>Events one unit can raise in one scan at most; asserted.</summary>
    public const int EventsPerUnitMax = 64;

    /// <summary>Allocates the output for a number of units.</summary>
    public ScanOutput(int unitCount)
    {
        Units = new UnitDecision[unitCount];
        for (int i = 0; i < unitCount; i++)
        {
            Units[i] = new UnitDecision();
        }

        Events = new GuardEvent[EventsPerUnitMax * (unitCount + 1)];
    }

    /// <summary>Scan this output belongs to.</summary>
    public long Scan { get; internal set; }

    /// <summary>Decisions in the order of the site table.</summary>
    public UnitDecision[] Units { get; }

    /// <summary>Event buffer; the first <see cref="EventCount"/> entries are valid.</summary>
    public GuardEvent[] Events { get; }

    /// <summary>Number of events raised in this scan.</summary>
    public int EventCount { get; internal set; }

    /// <summary>Sum of measured power of all units, kW; units without a good signal count with their rated power.</summary>
    public double SitePowerKw { get; internal set; }
}
