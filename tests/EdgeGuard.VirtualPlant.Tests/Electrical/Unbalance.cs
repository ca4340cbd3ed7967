using EdgeGuard.VirtualPlant.Electrical;

namespace EdgeGuard.VirtualPlant.Tests.Electrical;

/// <summary>Unbalance of three magnitudes that belong to phasors without a zero-sequence part.</summary>
internal static class Unbalance
{
    /// <summary>Largest deviation from the mean, per cent of the mean (form of NEMA MG 1, 14.34 and 20.24, there for voltages).</summary>
    public static double MaxDeviationPercent(ThreePhase values)
    {
        double mean = (values.L1 + values.L2 + values.L3) / 3.0;
        double greatest = Math.Max(Math.Abs(values.L1 - mean), Math.Max(Math.Abs(values.L2 - mean), Math.Abs(values.L3 - mean)));
        return 100.0 * greatest / mean;
    }

    /// <summary>Negative over positive sequence (formula of IEC 61000-4-30, 5.7.1, from memory).</summary>
    public static double NegativeOverPositive(ThreePhase values)
    {
        double squares = (values.L1 * values.L1) + (values.L2 * values.L2) + (values.L3 * values.L3);
        double fourths = Math.Pow(values.L1, 4) + Math.Pow(values.L2, 4) + Math.Pow(values.L3, 4);
        double root = Math.Sqrt(Math.Max(0.0, 3.0 - (6.0 * fourths / (squares * squares))));
        return Math.Sqrt((1.0 - root) / (1.0 + root));
    }
}
