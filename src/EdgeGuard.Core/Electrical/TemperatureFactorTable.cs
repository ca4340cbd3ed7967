namespace EdgeGuard.Core.Electrical;

/// <summary>
/// Resistance of a heating alloy against that at 20 °C, from points of its data sheet, straight lines between them.
/// The factor differs between grades in size and in sign, so it is configuration, never a constant. It serves to
/// bring a measured leg back to 20 °C for a trend; as a thermometer it is useless (4.6 % from 20 to 1100 °C for one
/// common grade, not even monotonic for another).
/// </summary>
public sealed class TemperatureFactorTable
{
    private readonly double[] _celsius;
    private readonly double[] _factor;

    /// <summary>Takes the points of a grade.</summary>
    /// <param name="name">Name of the grade.</param>
    /// <param name="celsius">Temperatures, °C, rising; at least two; one of them 20 °C.</param>
    /// <param name="factor">R(t) ÷ R(20 °C) at each, above 0; exactly 1 at 20 °C.</param>
    /// <exception cref="ArgumentException">The points are no such table.</exception>
    public TemperatureFactorTable(string name, IReadOnlyList<double> celsius, IReadOnlyList<double> factor)
    {
        ArgumentNullException.ThrowIfNull(name);
        ArgumentNullException.ThrowIfNull(celsius);
        ArgumentNullException.ThrowIfNull(factor);
        Name = name;
        _celsius = Copy(celsius);
        _factor = Copy(factor);
        if (WhatIsWrong() is { } wrong)
        {
            throw new ArgumentException(wrong, nameof(celsius));
        }
    }

    /// <summary>Name of the grade.</summary>
    public string Name { get; }

    /// <summary>First temperature with a point, °C.</summary>
    public double MinC => _celsius[0];

    /// <summary>Last temperature with a point, °C.</summary>
    public double MaxC => _celsius[^1];

    /// <summary>R(t) ÷ R(20 °C); beyond the points not a number: an extended table would be a guess.</summary>
    /// <param name="celsius">Temperature of the wire, °C.</param>
    public double FactorAt(double celsius)
    {
        if (!(celsius >= MinC && celsius <= MaxC))
        {
            return double.NaN;
        }

        int i = 1;
        while (_celsius[i] < celsius)
        {
            i++;
        }

        double share = (celsius - _celsius[i - 1]) / (_celsius[i] - _celsius[i - 1]);
        return _factor[i - 1] + (share * (_factor[i] - _factor[i - 1]));
    }

    /// <summary>Resistance brought back to 20 °C, Ω; not a number beyond the points.</summary>
    /// <param name="ohm">Resistance at that temperature, Ω.</param>
    /// <param name="celsius">Temperature of the wire, °C.</param>
    public double OhmAt20C(double ohm, double celsius) => ohm / FactorAt(celsius);

    private static double[] Copy(IReadOnlyList<double> values)
    {
        var copy = new double[values.Count];
        for (int i = 0; i < copy.Length; i++)
        {
            copy[i] = values[i];
        }

        return copy;
    }

    private string? WhatIsWrong()
    {
        if (_celsius.Length < 2 || _celsius.Length != _factor.Length)
        {
            return "a table needs two points at least, and a factor for each temperature";
        }

        bool reference = false;
        for (int i = 0; i < _celsius.Length; i++)
        {
            if (!double.IsFinite(_celsius[i]) || (i > 0 && !(_celsius[i] > _celsius[i - 1])))
            {
                return "the temperatures must rise";
            }

            if (!(_factor[i] > 0) || !double.IsFinite(_factor[i]))
            {
                return "each factor must be above 0";
            }

            reference |= _celsius[i] == 20 && _factor[i] == 1;
        }

        return reference ? null : "the factor at 20 °C must be 1";
    }
}
