using System.Globalization;
using EdgeGuard.Core.Electrical;

namespace EdgeGuard.Commands;

/// <summary>Electrical figures of a heater in lines for a reader; no line when the data give no figure.</summary>
internal static class CalcHeater
{
    public static IReadOnlyList<string> Legs(HeaterConnection connection, double r12, double r23, double r31, string? alloy, double celsius)
    {
        LegResistances legs = LegResistances.FromTerminals(connection, r12, r23, r31);
        if (!legs.AreLegs)
        {
            return [];
        }

        string names = connection == HeaterConnection.Star ? "1, 2, 3 from the star point" : "12, 23, 31";
        double terminals = 100 * ((Math.Max(r12, Math.Max(r23, r31)) / Math.Min(r12, Math.Min(r23, r31))) - 1);
        var lines = new List<string>
        {
            T($"legs {names}: {legs.FirstOhm:0.000}, {legs.SecondOhm:0.000}, {legs.ThirdOhm:0.000} Ω"),
            T($"largest over smallest: {legs.SpreadPercent:0.0} % between the legs, {terminals:0.0} % between the terminals"),
        };
        if (alloy is null)
        {
            return lines;
        }

        double factor = HeatingAlloys.Find(alloy)?.FactorAt(celsius) ?? double.NaN;
        if (double.IsNaN(factor))
        {
            return [];
        }

        lines.Add(T($"brought back to 20 °C with {alloy} at {celsius:0.#} °C (factor {factor:0.0000}): {legs.FirstOhm / factor:0.000}, {legs.SecondOhm / factor:0.000}, {legs.ThirdOhm / factor:0.000} Ω"));
        return lines;
    }

    public static IReadOnlyList<string> Unbalances(double a, double b, double c)
    {
        double deviation = Unbalance.MaxDeviationPercent(a, b, c);
        return double.IsFinite(deviation)
            ? [T($"largest deviation from the mean {deviation:0.000} %"), T($"negative ÷ positive sequence {Unbalance.NegativeSequencePercent(a, b, c):0.000} %")]
            : [];
    }

    public static IReadOnlyList<string> Rating(HeaterConnection connection, double kw, double volt)
    {
        double leg = HeaterRating.LegOhm(connection, kw, volt);
        if (double.IsNaN(leg))
        {
            return [];
        }

        const double Open = double.PositiveInfinity;
        return
        [
            T($"{HeaterRating.LineAmpere(kw, volt):0.00} A a line; {leg:0.000} Ω a leg; {HeaterRating.TerminalOhm(kw, volt):0.000} Ω between terminals (the same in star and delta)"),
            Fault("one leg open", LineCurrents.Of(connection, new LegResistances(leg, leg, Open), volt)),
            Fault("one line lost", LineCurrents.Of(connection, new LegResistances(leg, leg, leg), volt, LostLine.Third)),
            Fault("one leg 10 % high", LineCurrents.Of(connection, new LegResistances(leg, leg, 1.1 * leg), volt)),
            Fault("supply 10 % high", LineCurrents.Of(connection, new LegResistances(leg, leg, leg), 1.1 * volt)),
        ];
    }

    public static IReadOnlyList<string> Insulation(InsulationRule rule, double megohm, double volt)
    {
        string verdict = InsulationLimits.Passes(rule, megohm, volt) ? "passes" : "DOES NOT PASS";
        return [T($"{megohm:0.###} MΩ at {volt:0} V DC {verdict}: at least {InsulationLimits.LeastMegohm(rule):0.###} MΩ at {InsulationLimits.TestVolt(rule):0} V DC ({rule}; limit from memory, local codes win)")];
    }

    private static string Fault(string name, LineCurrents currents) => T(
        $"{name}: {currents.FirstAmpere:0.00}, {currents.SecondAmpere:0.00}, {currents.ThirdAmpere:0.00} A, {currents.PowerKw:0.00} kW, largest deviation {Unbalance.MaxDeviationPercent(currents.FirstAmpere, currents.SecondAmpere, currents.ThirdAmpere):0.0} %, negative sequence {Unbalance.NegativeSequencePercent(currents.FirstAmpere, currents.SecondAmpere, currents.ThirdAmpere):0.0} %");

    private static string T(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
