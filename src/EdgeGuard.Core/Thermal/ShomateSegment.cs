namespace EdgeGuard.Core.Thermal;

/// <summary>
/// One temperature range of the Shomate equation, cp = A + B t + C t² + D t³ + E/t² in J/(mol K) with t = T/1000 K.
/// </summary>
internal readonly struct ShomateSegment
{
    private readonly double _a;
    private readonly double _b;
    private readonly double _c;
    private readonly double _d;
    private readonly double _e;

    public ShomateSegment(double maxKelvin, double a, double b, double c, double d, double e)
    {
        MaxKelvin = maxKelvin;
        _a = a;
        _b = b;
        _c = c;
        _d = d;
        _e = e;
    }

    /// <summary>Upper end of the range, K.</summary>
    public double MaxKelvin { get; }

    /// <summary>Integral of cp without its constant, J/mol.</summary>
    public double Integral(double kelvin)
    {
        double t = kelvin / 1000;
        double polynomial = t * (_a + (t * ((_b / 2) + (t * ((_c / 3) + (t * (_d / 4)))))));
        return 1000 * (polynomial - (_e / t));
    }
}
