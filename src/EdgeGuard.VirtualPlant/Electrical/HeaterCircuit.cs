using System.Numerics;

namespace EdgeGuard.VirtualPlant.Electrical;

/// <summary>
/// The three-wire resistive load behind a controller that sits in the lines. A line takes part when its supply phase is
/// there and its controller leg conducts; a line without supply floats at the potential the load gives it, so a lost
/// phase is still seen at half of its voltage while the load conducts. Source impedance is left out.
/// </summary>
public static class HeaterCircuit
{
    private static readonly double HalfRootOfThree = Math.Sqrt(3.0) / 2.0;

    /// <summary>Solves the circuit.</summary>
    /// <param name="connection">Star without neutral, or delta.</param>
    /// <param name="phaseV">Voltage from each supply phase to the neutral, V.</param>
    /// <param name="legSiemens">Conductances: star legs 1, 2, 3; delta legs 1-2, 2-3, 3-1. Zero is an open leg.</param>
    /// <param name="supplied">Supply phases that are there.</param>
    /// <param name="conducting">Controller legs that conduct, contactor included.</param>
    public static CircuitFlows Solve(LoadConnection connection, double phaseV, ThreePhase legSiemens, Phases supplied, Phases conducting)
    {
        Span<Complex> source =
        [
            new Complex(phaseV, 0.0),
            new Complex(-phaseV / 2.0, -phaseV * HalfRootOfThree),
            new Complex(-phaseV / 2.0, phaseV * HalfRootOfThree),
        ];
        Span<double> legs = [legSiemens.L1, legSiemens.L2, legSiemens.L3];
        Span<Complex> terminal = [default, default, default];
        Span<Complex> current = [default, default, default];
        Phases live = supplied & conducting;
        if (connection == LoadConnection.Star)
        {
            SolveStar(source, legs, live, terminal, current);
        }
        else
        {
            SolveDelta(source, legs, live, terminal, current);
        }

        return Flows(source, terminal, current, supplied, conducting);
    }

    private static void SolveStar(ReadOnlySpan<Complex> source, ReadOnlySpan<double> legs, Phases live, Span<Complex> terminal, Span<Complex> current)
    {
        double sum = 0.0;
        Complex weighted = Complex.Zero;
        for (int line = 0; line < 3; line++)
        {
            if (Has(live, line))
            {
                sum += legs[line];
                weighted += legs[line] * source[line];
            }
        }

        Complex starPoint = sum > 0.0 ? weighted / sum : Complex.Zero;
        for (int line = 0; line < 3; line++)
        {
            terminal[line] = Has(live, line) ? source[line] : legs[line] > 0.0 ? starPoint : Complex.Zero;
            current[line] = Has(live, line) ? legs[line] * (source[line] - starPoint) : Complex.Zero;
        }
    }

    private static void SolveDelta(ReadOnlySpan<Complex> source, ReadOnlySpan<double> legs, Phases live, Span<Complex> terminal, Span<Complex> current)
    {
        for (int line = 0; line < 3; line++)
        {
            terminal[line] = Has(live, line) ? source[line] : Floating(source, legs, live, line);
        }

        if (BitOperations.PopCount((uint)live) < 2)
        {
            return;
        }

        for (int leg = 0; leg < 3; leg++)
        {
            int next = (leg + 1) % 3;
            Complex through = legs[leg] * (terminal[leg] - terminal[next]);
            current[leg] += through;
            current[next] -= through;
        }
    }

    /// <summary>Potential of a line that carries no current, between the two delta legs that meet there.</summary>
    private static Complex Floating(ReadOnlySpan<Complex> source, ReadOnlySpan<double> legs, Phases live, int line)
    {
        int next = (line + 1) % 3;
        int before = (line + 2) % 3;
        double toNext = Has(live, next) ? legs[line] : 0.0;
        double toBefore = Has(live, before) ? legs[before] : 0.0;
        double sum = toNext + toBefore;
        return sum > 0.0 ? ((toNext * source[next]) + (toBefore * source[before])) / sum : Complex.Zero;
    }

    private static CircuitFlows Flows(ReadOnlySpan<Complex> source, ReadOnlySpan<Complex> terminal, ReadOnlySpan<Complex> current, Phases supplied, Phases conducting)
    {
        Span<double> volts = [0.0, 0.0, 0.0];
        double watts = 0.0;
        for (int line = 0; line < 3; line++)
        {
            watts += (terminal[line] * Complex.Conjugate(current[line])).Real;
            volts[line] = Has(supplied, line) ? Squared(source[line]) : Has(conducting, line) ? Squared(terminal[line]) : 0.0;
        }

        return new CircuitFlows
        {
            CurrentSquaredA2 = new ThreePhase(Squared(current[0]), Squared(current[1]), Squared(current[2])),
            VoltageSquaredV2 = new ThreePhase(volts[0], volts[1], volts[2]),
            PowerKw = watts / 1000.0,
        };
    }

    private static bool Has(Phases phases, int line) => ((int)phases & (1 << line)) != 0;

    private static double Squared(Complex value) => (value.Real * value.Real) + (value.Imaginary * value.Imaginary);
}
