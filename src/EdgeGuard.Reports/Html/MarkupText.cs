using System.Globalization;
using System.Text;
using System.Xml;

namespace EdgeGuard.Reports.Html;

/// <summary>
/// Text and numbers for markup. Names and reasons in a report come from configuration and people, so every one of
/// them passes through here: markup in them becomes text, and characters that XML cannot carry become U+FFFD.
/// </summary>
internal static class MarkupText
{
    public static string Escape(string? text)
    {
        var result = new StringBuilder(text?.Length ?? 0);
        ReadOnlySpan<char> rest = text;
        for (int i = 0; i < rest.Length; i++)
        {
            char c = rest[i];
            if (i + 1 < rest.Length && XmlConvert.IsXmlSurrogatePair(rest[i + 1], c))
            {
                result.Append(c).Append(rest[++i]);
                continue;
            }

            _ = c switch
            {
                '&' => result.Append("&amp;"),
                '<' => result.Append("&lt;"),
                '>' => result.Append("&gt;"),
                '"' => result.Append("&quot;"),
                '\'' => result.Append("&#39;"),
                _ => result.Append(XmlConvert.IsXmlChar(c) ? c : '\uFFFD'),
            };
        }

        return result.ToString();
    }

    /// <summary>A coordinate: a tenth of a unit is finer than any pixel.</summary>
    public static string Coordinate(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    /// <summary>A value for a reader: up to four digits after the point, no exponent in the usual range.</summary>
    public static string Number(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);
}
