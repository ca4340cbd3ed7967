using System.Globalization;
using EdgeGuard.VirtualPlant.Ledger;

namespace EdgeGuard.Acceptance.Tests.Reaction;

/// <summary>One measured reaction, by the plant's ledger.</summary>
/// <param name="Unit">Name of the unit.</param>
/// <param name="PhaseMs">Moment of the fault within the scan period, against an unknown but constant origin, ms.</param>
/// <param name="ReactionMs">From the meter's register below the limit to power off, ms.</param>
/// <param name="PowerKw">Power when the register fell, kW.</param>
internal sealed record ReactionRun(string Unit, double PhaseMs, long ReactionMs, double PowerKw)
{
    public static ReactionRun Of(string unit, double phaseMs, FlowReaction reaction) => new(unit, phaseMs, reaction.ReactionMs, reaction.PowerKw);

    public static ReactionRun Parse(string line)
    {
        string[] cells = line.Split(',');
        return new(cells[0], double.Parse(cells[1], CultureInfo.InvariantCulture), long.Parse(cells[2], CultureInfo.InvariantCulture), double.Parse(cells[3], CultureInfo.InvariantCulture));
    }

    public string ToLine() => string.Create(CultureInfo.InvariantCulture, $"{Unit},{PhaseMs:F1},{ReactionMs},{PowerKw:F3}");
}
