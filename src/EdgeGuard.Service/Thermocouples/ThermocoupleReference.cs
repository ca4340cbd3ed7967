namespace EdgeGuard.Service.Thermocouples;

/// <summary>
/// Reference functions of thermocouples: mV from °C with the reference junction at 0 °C, and back. They run when a site is
/// checked and commissioned, never in a scan: type K has an exponential, whose last bits differ between machines.
/// </summary>
/// <remarks>
/// Source: NIST Standard Reference Database 60 (ITS-90), the same functions as IEC 60584-1:2013. The way back bisects the
/// function itself, so no second set of rounded coefficients can disagree with it.
/// </remarks>
public static class ThermocoupleReference
{
    // 1650 K halved 60 times is far below the last place of a temperature.
    private const int Bisections = 60;

    private static readonly ReferenceSegment[] K =
    [
        new(-270, 0,
        [
            0, .394501280250e-1, .236223735980e-4, -.328589067840e-6, -.499048287770e-8, -.675090591730e-10,
            -.574103274280e-12, -.310888728940e-14, -.104516093650e-16, -.198892668780e-19, -.163226974860e-22,
        ]),
        new(0, 1372,
        [
            -.176004136860e-1, .389212049750e-1, .185587700320e-4, -.994575928740e-7, .318409457190e-9,
            -.560728448890e-12, .560750590590e-15, -.320207200030e-18, .971511471520e-22, -.121047212750e-25,
        ], HasExponential: true),
    ];

    private static readonly ReferenceSegment[] N =
    [
        new(-270, 0,
        [
            0, .261591059620e-1, .109574842280e-4, -.938411115540e-7, -.464120397590e-10, -.263033577160e-11,
            -.226534380030e-13, -.760893007910e-16, -.934196678350e-19,
        ]),
        new(0, 1300,
        [
            0, .259293946010e-1, .157101418800e-4, .438256272370e-7, -.252611697940e-9, .643118193390e-12,
            -.100634715190e-14, .997453389920e-18, -.608632456070e-21, .208492293390e-24, -.306821961510e-28,
        ]),
    ];

    private static readonly ReferenceSegment[] S =
    [
        new(-50, 1064.18,
        [
            0, .540313308631e-2, .125934289740e-4, -.232477968689e-7, .322028823036e-10, -.331465196389e-13,
            .255744251786e-16, -.125068871393e-19, .271443176145e-23,
        ]),
        new(1064.18, 1664.5,
        [
            .132900444085e1, .334509311344e-2, .654805192818e-5, -.164856259209e-8, .129989605174e-13,
        ]),
    ];

    /// <summary>Lowest temperature of the function, °C; NaN without a type.</summary>
    /// <param name="type">The type.</param>
    public static double MinC(ThermocoupleType type) => Segments(type) is { } segments ? segments[0].MinC : double.NaN;

    /// <summary>Highest temperature of the function, °C; NaN without a type. Type S ends here at 1664.5 °C.</summary>
    /// <param name="type">The type.</param>
    public static double MaxC(ThermocoupleType type) => Segments(type) is { } segments ? segments[^1].MaxC : double.NaN;

    /// <summary>Voltage, mV, reference junction at 0 °C; NaN outside the range.</summary>
    /// <param name="type">The type.</param>
    /// <param name="celsius">Temperature of the measuring junction, °C.</param>
    public static double Millivolt(ThermocoupleType type, double celsius) =>
        Find(type, celsius) is { } segment ? segment.Millivolt(celsius) : double.NaN;

    /// <summary>Sensitivity, µV/K; NaN outside the range.</summary>
    /// <param name="type">The type.</param>
    /// <param name="celsius">Temperature of the measuring junction, °C.</param>
    public static double MicrovoltPerK(ThermocoupleType type, double celsius) =>
        Find(type, celsius) is { } segment ? 1000 * segment.MillivoltPerK(celsius) : double.NaN;

    /// <summary>Temperature of a voltage, °C, reference junction at 0 °C; NaN outside the range of the function.</summary>
    /// <param name="type">The type.</param>
    /// <param name="millivolt">Voltage, mV.</param>
    public static double Celsius(ThermocoupleType type, double millivolt)
    {
        if (Segments(type) is null)
        {
            return double.NaN;
        }

        // Below −200 °C the functions of K and N are nearly flat; what is to be found here lies above.
        double low = Math.Max(MinC(type), -200);
        double high = MaxC(type);
        if (!(millivolt >= Millivolt(type, low) && millivolt <= Millivolt(type, high)))
        {
            return double.NaN;
        }

        for (int i = 0; i < Bisections; i++)
        {
            double middle = (low + high) / 2;
            if (Millivolt(type, middle) < millivolt)
            {
                low = middle;
            }
            else
            {
                high = middle;
            }
        }

        return high;
    }

    private static ReferenceSegment[]? Segments(ThermocoupleType type) => type switch
    {
        ThermocoupleType.K => K,
        ThermocoupleType.N => N,
        ThermocoupleType.S => S,
        _ => null,
    };

    private static ReferenceSegment? Find(ThermocoupleType type, double celsius)
    {
        foreach (ReferenceSegment segment in Segments(type) ?? [])
        {
            if (celsius >= segment.MinC && celsius <= segment.MaxC)
            {
                return segment;
            }
        }

        return null;
    }
}
