using System.Globalization;

namespace EdgeGuard.Records.Journal;

/// <summary>
/// Measured values as journal text: thousandths as an integer, then printed with three places and the unit. So the
/// bytes are the same on every platform, and a value that is no number says so instead of looking like one.
/// </summary>
public static class Quantity
{
    // Beyond this a double no longer holds every thousandth, and no signal of this trade reaches it.
    private const double MagnitudeMax = 9e12;

    /// <summary>Formats a value.</summary>
    /// <param name="value">Value in <paramref name="unit"/>.</param>
    /// <param name="unit">Unit as text; empty for a plain number.</param>
    /// <returns>For example "69.312 kg/h", "unknown" for not-a-number, "beyond range" for the infinite.</returns>
    public static string Format(double value, string unit)
    {
        if (double.IsNaN(value))
        {
            return "unknown";
        }

        return Math.Abs(value) > MagnitudeMax ? "beyond range" : FormatMilli((long)Math.Round(value * 1000, MidpointRounding.AwayFromZero), unit);
    }

    /// <summary>Formats a value given in thousandths of the unit.</summary>
    /// <param name="milli">Thousandths.</param>
    /// <param name="unit">Unit as text; empty for a plain number.</param>
    public static string FormatMilli(long milli, string unit)
    {
        ulong magnitude = milli < 0 ? (ulong)-(Int128)milli : (ulong)milli;
        string sign = milli < 0 ? "-" : string.Empty;
        string number = string.Create(CultureInfo.InvariantCulture, $"{sign}{magnitude / 1000}.{magnitude % 1000:000}");
        return string.IsNullOrEmpty(unit) ? number : number + " " + unit;
    }
}
