namespace EdgeGuard.Service.Thermocouples;

/// <summary>One range of a reference function: a polynomial in °C and, for type K above 0 °C, an exponential term.</summary>
/// <param name="MinC">Lower end, °C.</param>
/// <param name="MaxC">Upper end, °C.</param>
/// <param name="Coefficients">c0, c1, …, in mV/°C^i.</param>
/// <param name="HasExponential">True where 0.1185976 exp(−1.183432e-4 (t − 126.9686)²) is added.</param>
internal sealed record ReferenceSegment(double MinC, double MaxC, double[] Coefficients, bool HasExponential = false)
{
    private const double Amplitude = 0.1185976;
    private const double Width = -1.183432e-4;
    private const double CentreC = 126.9686;

    public double Millivolt(double celsius)
    {
        double sum = 0;
        for (int i = Coefficients.Length - 1; i >= 0; i--)
        {
            sum = (sum * celsius) + Coefficients[i];
        }

        return HasExponential ? sum + Bump(celsius) : sum;
    }

    public double MillivoltPerK(double celsius)
    {
        double sum = 0;
        for (int i = Coefficients.Length - 1; i >= 1; i--)
        {
            sum = (sum * celsius) + (i * Coefficients[i]);
        }

        return HasExponential ? sum + (2 * Width * (celsius - CentreC) * Bump(celsius)) : sum;
    }

    private static double Bump(double celsius) => Amplitude * Math.Exp(Width * (celsius - CentreC) * (celsius - CentreC));
}
